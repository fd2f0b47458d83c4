import type { OwnFat, RecipeDraft } from '@ashwater/contracts';
import { mouldFieldsOf, mouldFormOf } from './mould-form.ts';
import type { MouldForm } from './mould-form.ts';

export type AlkaliChoice = 'sodium' | 'potassium' | 'both';
export type WaterBy = NonNullable<RecipeDraft['waterBy']>;
/** A draft with every list there, also those that came with later versions of the service. */
export type EditorDraft = RecipeDraft & { acids: NonNullable<RecipeDraft['acids']>; waterBy: WaterBy };
/** What the editor's form holds: the draft, and answers that are not part of it: the alkali, a mould to try, where it cools. */
export type EditorState = { draft: EditorDraft; alkali: AlkaliChoice; mouldMl: string; mould: MouldForm; aroundC: string; workingC: string };
type Typed = Readonly<Record<string, string>>;

/** The contract's own limits on lines. */
export const MOST = { fats: 20, liquids: 5, acids: 5, additives: 15 } as const;
export type List = keyof typeof MOST;

/** Which alkali a typed share of potassium hydroxide means; anything unreadable is a share still being typed. */
export function alkaliOf(kohSharePercent: string): AlkaliChoice {
  const typed = kohSharePercent.trim();
  return typed === '0' ? 'sodium' : typed === '100' ? 'potassium' : 'both';
}
const SHARES: Record<Exclude<AlkaliChoice, 'both'>, string> = { sodium: '0', potassium: '100' };
const WATER_BY: readonly WaterBy[] = ['lye concentration', 'water per alkali', 'share of fat'];
const waterByOf = (typed: string): WaterBy => WATER_BY.find((by) => by === typed) ?? 'lye concentration';

const NO_CERTIFICATE = { certificateSv: '', certificateUncertainty: '', certificateOn: '' };

/** Drafts from before a field could be given lack it; the form always has it. */
export const startFrom = (draft: RecipeDraft): EditorState => ({
  draft: {
    ...draft,
    fats: draft.fats.map((fat) => ({ ...NO_CERTIFICATE, late: false, ...fat })),
    waterBy: draft.waterBy ?? 'lye concentration',
    waterFigure: draft.waterFigure ?? '',
    peakLimitC: draft.peakLimitC ?? '',
    shrinkPercent: draft.shrinkPercent ?? '',
    wastePercent: draft.wastePercent ?? '',
    liquids: draft.liquids.map((liquid) => ({ intoFatsPercent: '', ...liquid })),
    acids: draft.acids ?? [],
  },
  alkali: alkaliOf(draft.kohSharePercent),
  mouldMl: '',
  mould: mouldFormOf({}),
  aroundC: '',
  workingC: '',
});

/** The one figure of the water's field, by whichever measure it is given. */
export const waterFigureOf = (draft: RecipeDraft): string =>
  (draft.waterBy ?? 'lye concentration') === 'lye concentration' ? draft.lyeConcentrationPercent : (draft.waterFigure ?? '');

/** The draft with this figure as its water. The measures not in use are blank: two figures for one thing could differ. */
export const withWater = <Draft extends RecipeDraft>(draft: Draft, waterBy: WaterBy, figure: string): Draft =>
  waterBy === 'lye concentration'
    ? { ...draft, waterBy, lyeConcentrationPercent: figure, waterFigure: '' }
    : { ...draft, waterBy, lyeConcentrationPercent: '', waterFigure: figure };

/** How many lines of a list a form holds: one more than the highest index among its field names. */
function lineCount(typed: Typed, list: List): number {
  const pattern = new RegExp(`^draft/${list}/(\\d+)/`);
  const indexes = Object.keys(typed).map((name) => Number(pattern.exec(name)?.[1] ?? -1));
  return Math.min(MOST[list], Math.max(-1, ...indexes) + 1);
}

/** A fat as the studio wrote it, put beside the line that names it, so that the editor can work with it. */
const withOwn = <Fat extends { fatKey: string }>(fat: Fat, ownFats: readonly OwnFat[]): Fat & { own?: OwnFat } => {
  const own = ownFats.find(({ id }) => fat.fatKey === `own:${id}`);
  return own ? { ...fat, own } : fat;
};

/**
 * Reads the form's fields, by name, into the editor's state. A missing field is blank, never a number.
 * @param ownFats the studio's own fats; the service fills them in anew when it saves
 */
export function editorState(typed: Typed, ownFats: readonly OwnFat[] = []): EditorState {
  const at = (name: string) => typed[name] ?? '';
  const chosen = at('alkali');
  const alkali: AlkaliChoice = chosen === 'potassium' || chosen === 'both' ? chosen : 'sodium';
  const draft = {
    title: at('draft/title'),
    ...linesOf(typed, ownFats),
    kohSharePercent: alkali === 'both' ? at('draft/kohSharePercent') : SHARES[alkali],
    superfatPercent: at('draft/superfatPercent'),
    superfatFloorPercent: at('draft/superfatFloorPercent'),
    lyeConcentrationPercent: '',
    waterBy: 'lye concentration' as WaterBy,
    waterFigure: '',
    peakLimitC: at('draft/peakLimitC'),
    shrinkPercent: at('draft/shrinkPercent'),
    wastePercent: at('draft/wastePercent'),
    iceSharePercent: at('draft/iceSharePercent'),
    waterTemperatureC: at('draft/waterTemperatureC'),
    iceTemperatureC: at('draft/iceTemperatureC'),
  };
  return {
    alkali,
    mouldMl: at('mouldMl'),
    mould: mouldFormOf(typed),
    aroundC: at('aroundC'),
    workingC: at('workingC'),
    draft: withWater(draft, waterByOf(at('draft/waterBy')), at('draft/waterFigure')),
  };
}

function linesOf(typed: Typed, ownFats: readonly OwnFat[]) {
  const lines = <T>(list: List, read: (part: (name: string) => string) => T): T[] =>
    Array.from({ length: lineCount(typed, list) }, (_, i) => read((name) => typed[`draft/${list}/${i}/${name}`] ?? ''));
  return {
    fats: lines('fats', (part) =>
      withOwn(
        {
          fatKey: part('fatKey'),
          sharePercent: part('sharePercent'),
          certificateSv: part('certificateSv'),
          certificateUncertainty: part('certificateUncertainty'),
          certificateOn: part('certificateOn'),
          late: part('late') === 'yes',
        },
        ownFats,
      ),
    ),
    liquids: lines('liquids', (part) => ({
      liquidKey: part('liquidKey'),
      shareOfWaterPercent: part('shareOfWaterPercent'),
      intoFatsPercent: part('intoFatsPercent'),
    })),
    acids: lines('acids', (part) => ({
      acidKey: part('acidKey'),
      shareOfFatPercent: part('shareOfFatPercent'),
      strengthPercent: part('strengthPercent'),
      strengthUncertainty: part('strengthUncertainty'),
    })),
    additives: lines('additives', (part) => ({ name: part('name'), shareOfFatPercent: part('shareOfFatPercent'), limitPercent: part('limitPercent') })),
  };
}

/** The other way round: every field's name with what stands in it. A box that is not ticked sends nothing, as in a browser. */
export function fieldsOf({ draft, alkali, mouldMl, mould, aroundC, workingC }: EditorState): Record<string, string> {
  const { lyeConcentrationPercent: _one, waterFigure: _other, ...rest } = draft;
  const fields: Record<string, string> = { alkali, mouldMl, ...mouldFieldsOf(mould), aroundC, workingC, 'draft/waterFigure': waterFigureOf(draft) };
  for (const [key, value] of Object.entries(rest)) {
    if (typeof value === 'string') fields[`draft/${key}`] = value;
    else
      value.forEach((line, i) =>
        Object.entries(line).forEach(([part, content]) => {
          if (typeof content === 'string') fields[`draft/${key}/${i}/${part}`] = content;
          else if (content === true) fields[`draft/${key}/${i}/${part}`] = 'yes';
        }),
      );
  }
  return fields;
}
