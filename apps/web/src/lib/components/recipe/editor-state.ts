import type { RecipeDraft } from '@ashwater/contracts';

export type AlkaliChoice = 'sodium' | 'potassium' | 'both';
/** What the editor's form holds: the draft, and two answers that are not part of it. */
export type EditorState = { draft: RecipeDraft; alkali: AlkaliChoice; mouldMl: string };
type Typed = Readonly<Record<string, string>>;

/** The contract's own limits on lines. */
export const MOST = { fats: 20, liquids: 5, additives: 15 } as const;
type List = keyof typeof MOST;

/** Which alkali a typed share of potassium hydroxide means; anything unreadable is a share still being typed. */
export function alkaliOf(kohSharePercent: string): AlkaliChoice {
  const typed = kohSharePercent.trim();
  return typed === '0' ? 'sodium' : typed === '100' ? 'potassium' : 'both';
}
const SHARES: Record<Exclude<AlkaliChoice, 'both'>, string> = { sodium: '0', potassium: '100' };

const NO_CERTIFICATE = { certificateSv: '', certificateUncertainty: '', certificateOn: '' };

/** Drafts from before certificates could be given lack those fields; the form always has them. */
export const startFrom = (draft: RecipeDraft): EditorState => ({
  draft: { ...draft, fats: draft.fats.map((fat) => ({ ...NO_CERTIFICATE, ...fat })) },
  alkali: alkaliOf(draft.kohSharePercent),
  mouldMl: '',
});

/** How many lines of a list a form holds: one more than the highest index among its field names. */
function lineCount(typed: Typed, list: List): number {
  const pattern = new RegExp(`^draft/${list}/(\\d+)/`);
  const indexes = Object.keys(typed).map((name) => Number(pattern.exec(name)?.[1] ?? -1));
  return Math.min(MOST[list], Math.max(-1, ...indexes) + 1);
}

/** Reads the form's fields, by name, into the editor's state. A missing field is blank, never a number. */
export function editorState(typed: Typed): EditorState {
  const at = (name: string) => typed[name] ?? '';
  const lines = <T>(list: List, read: (prefix: string) => T): T[] => Array.from({ length: lineCount(typed, list) }, (_, i) => read(`draft/${list}/${i}/`));
  const chosen = at('alkali');
  const alkali: AlkaliChoice = chosen === 'potassium' || chosen === 'both' ? chosen : 'sodium';
  return {
    alkali,
    mouldMl: at('mouldMl'),
    draft: {
      title: at('draft/title'),
      fats: lines('fats', (line) => ({
        fatKey: at(`${line}fatKey`),
        sharePercent: at(`${line}sharePercent`),
        certificateSv: at(`${line}certificateSv`),
        certificateUncertainty: at(`${line}certificateUncertainty`),
        certificateOn: at(`${line}certificateOn`),
      })),
      kohSharePercent: alkali === 'both' ? at('draft/kohSharePercent') : SHARES[alkali],
      superfatPercent: at('draft/superfatPercent'),
      superfatFloorPercent: at('draft/superfatFloorPercent'),
      lyeConcentrationPercent: at('draft/lyeConcentrationPercent'),
      iceSharePercent: at('draft/iceSharePercent'),
      waterTemperatureC: at('draft/waterTemperatureC'),
      iceTemperatureC: at('draft/iceTemperatureC'),
      liquids: lines('liquids', (line) => ({ liquidKey: at(`${line}liquidKey`), shareOfWaterPercent: at(`${line}shareOfWaterPercent`) })),
      additives: lines('additives', (line) => ({
        name: at(`${line}name`),
        shareOfFatPercent: at(`${line}shareOfFatPercent`),
        limitPercent: at(`${line}limitPercent`),
      })),
    },
  };
}

/** The other way round: every field's name with what stands in it. */
export function fieldsOf({ draft, alkali, mouldMl }: EditorState): Record<string, string> {
  const fields: Record<string, string> = { alkali, mouldMl };
  for (const [key, value] of Object.entries(draft)) {
    if (typeof value === 'string') fields[`draft/${key}`] = value;
    else value.forEach((line, i) => Object.entries(line).forEach(([part, text]) => (fields[`draft/${key}/${i}/${part}`] = text)));
  }
  return fields;
}
