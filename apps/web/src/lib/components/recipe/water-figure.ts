import { parseDecimal, waterFigures, waterOf } from '@ashwater/formulation';
import type { WaterFigures, WaterMeasure } from '@ashwater/formulation';
import { waterFigureOf, withWater } from './editor-state.ts';
import type { EditorState, WaterBy } from './editor-state.ts';

/** Alkali, fat and all water of a batch, whole mg. */
export type BatchMasses = { alkaliMassMg: number; fatMassMg: number; waterMassMg: number };

const DECIMALS = 3;
/** Masses large enough that whole milligrams cost the figure nothing it shows. */
const SCALE_MG = 1_000_000_000;

const measureOf = (by: WaterBy, figure: number): WaterMeasure => (by === 'water per alkali' ? { kind: by, ratio: figure } : { kind: by, percent: figure });
const figureIn = (by: WaterBy, figures: WaterFigures): number =>
  by === 'lye concentration' ? figures.lyeConcentrationPercent : by === 'water per alkali' ? figures.waterPerAlkali : figures.waterShareOfFatPercent;
const short = (figure: number, decimals: number): string => String(Number(figure.toFixed(decimals)));

/**
 * A typed figure in another measure of the same water, with the fewest decimals that still mean the same figure when turned back.
 * @param alkaliPerFat mass of alkali per mass of fat; needed only where a share of the fat is one of the two
 * @returns undefined for what cannot be read or turned
 */
export function inMeasure(typed: string, from: WaterBy, to: WaterBy, alkaliPerFat: number | undefined): string | undefined {
  const read = parseDecimal(typed, { name: '', min: 0, max: 1000, maxDecimals: DECIMALS });
  if (!read.ok) return undefined;
  if ([from, to].includes('share of fat') && alkaliPerFat === undefined) return undefined;
  const masses = { fatMg: SCALE_MG / 10, alkaliMg: Math.round((SCALE_MG / 10) * (alkaliPerFat ?? 0.14)) };
  const turn = (figure: number, [one, other]: readonly [WaterBy, WaterBy]): number | undefined => {
    const water = waterOf(measureOf(one, figure), masses);
    return water.ok ? figureIn(other, water.value) : undefined;
  };
  const exact = turn(read.value.value, [from, to]);
  if (exact === undefined) return undefined;
  const kept = short(read.value.value, DECIMALS);
  for (let decimals = 0; decimals < DECIMALS; decimals += 1) {
    const back = turn(Number(exact.toFixed(decimals)), [to, from]);
    if (back !== undefined && short(back, DECIMALS) === kept) return short(exact, decimals);
  }
  return short(exact, DECIMALS);
}

/** A figure as a person typed it, in its measure. */
export type TypedWater = { by: WaterBy; figure: string };
export const typedWater = ({ draft }: EditorState): TypedWater => ({ by: draft.waterBy, figure: waterFigureOf(draft) });

/** Rounding on the way through the measures, as a share of the figure. */
const ROUNDING = 0.001;

/**
 * The state after another measure was chosen: the same water, told in it. Where the recipe is not complete enough to turn one into the
 * other the field is blank, for the old figure would mean something else there.
 * @param typed the figure a person wrote: as long as it still means this water it is turned instead, and coming back to its measure
 *   gives it to the last decimal
 */
export function withMeasure(state: EditorState, to: WaterBy, batch: BatchMasses | null, typed: TypedWater = typedWater(state)): EditorState {
  if (state.draft.waterBy === to) return state;
  const alkaliPerFat = batch ? batch.alkaliMassMg / batch.fatMassMg : undefined;
  const turned = ({ by, figure }: TypedWater) => (by === to ? figure : inMeasure(figure, by, to, alkaliPerFat));
  const here = turned(typedWater(state));
  const written = turned(typed);
  const same = here === undefined || Math.abs(Number(here) - Number(written)) <= ROUNDING * Number(here);
  return { ...state, draft: withWater(state.draft, to, (same ? written : here) ?? '') };
}

/** "This is 2.33 g of water for each gram of alkali, and 30.2 % of the fat.": the measures not typed. */
export function otherMeasures(by: WaterBy, batch: BatchMasses): string {
  const figures = waterFigures({ alkaliMg: batch.alkaliMassMg, fatMg: batch.fatMassMg, waterMg: batch.waterMassMg });
  const words: Record<WaterBy, string> = {
    'lye concentration': `a lye concentration of ${short(figures.lyeConcentrationPercent, 1)} %`,
    'water per alkali': `${short(figures.waterPerAlkali, 2)} g of water for each gram of alkali`,
    'share of fat': `${short(figures.waterShareOfFatPercent, 1)} % of the fat as water`,
  };
  const [one, other] = (Object.keys(words) as WaterBy[]).filter((each) => each !== by);
  return one && other ? `This is ${words[one]}, and ${words[other]}.` : '';
}

/** The water as the recipe gives it, with the figure as it was typed. */
export function waterWords({ waterBy, lyeConcentrationPercent, waterFigure = '' }: EditorState['draft']): string {
  if (waterBy === 'lye concentration') return `lye concentration ${lyeConcentrationPercent} %`;
  return waterBy === 'water per alkali' ? `${waterFigure} g for each gram of alkali` : `${waterFigure} % of the fat`;
}
