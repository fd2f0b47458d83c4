import { KOH_G_PER_MOL, NAOH_G_PER_MOL } from './alkali.ts';
import type { FormulationProblem, Interval, Outcome } from './outcome.ts';
import { problem } from './outcome.ts';
import { checkMass, checkPercent, whenSound } from './when-sound.ts';
import type { Atoms } from './molar-mass.ts';
import { molarMass } from './molar-mass.ts';

/**
 * Acids in a recipe take up alkali before the fat does: one mole of hydroxide for each acid group.
 * They are weighed in with extra alkali, or the superfat grows by what they take.
 */
export type RecipeAcid = { key: string; name: string; gPerMol: number; acidGroups: number; takesAlkali: boolean; note: string };

type Row = readonly [key: string, name: string, atoms: Atoms, acidGroups: number, note: string];

const EXTRA = 'Its extra alkali is safe only if the acid really goes in: weigh the acid before the lye.';

// prettier-ignore
const ROWS: readonly Row[] = [
  ['citric_acid', 'Citric acid, anhydrous', { C: 6, H: 8, O: 7 }, 3, EXTRA],
  ['citric_acid_monohydrate', 'Citric acid monohydrate', { C: 6, H: 10, O: 8 }, 3, EXTRA],
  ['lactic_acid', 'Lactic acid', { C: 3, H: 6, O: 3 }, 1, `${EXTRA} It is sold as a solution: enter its strength.`],
  ['acetic_acid', 'Acetic acid', { C: 2, H: 4, O: 2 }, 1, `${EXTRA} Vinegar holds about 5 %.`],
  ['sodium_bicarbonate', 'Sodium bicarbonate', { Na: 1, H: 1, C: 1, O: 3 }, 0, 'Not counted either way: never replace lye by it or add lye for it. What it takes up in turning to carbonate leaves a little more superfat.'],
  ['sodium_citrate', 'Sodium citrate dihydrate', { Na: 3, C: 6, H: 9, O: 9 }, 0, 'A salt: it is neutralised already and takes no alkali.'],
  ['sodium_lactate', 'Sodium lactate', { Na: 1, C: 3, H: 5, O: 3 }, 0, 'A salt: it is neutralised already and takes no alkali.'],
  ['salt', 'Table salt', {}, 0, 'A salt: it takes no alkali.'],
];

export const RECIPE_ACIDS: readonly RecipeAcid[] = ROWS.map(([key, name, atoms, acidGroups, note]): RecipeAcid => ({
  key,
  name,
  gPerMol: molarMass(atoms),
  acidGroups,
  takesAlkali: acidGroups > 0,
  note,
}));

export function acidByKey(key: string): RecipeAcid | undefined {
  return RECIPE_ACIDS.find((acid) => acid.key === key);
}

/**
 * Pure KOH that one mg of an acid as weighed takes up, mg: acid groups over its molar mass, times its
 * strength. 0 for what takes none, such as a salt, and for a key that is in no list.
 */
export function kohTakenPerMg(acidKey: string, strengthPercent: Interval): Interval {
  const acid = acidByKey(acidKey);
  const perMg = acid?.takesAlkali ? (acid.acidGroups * KOH_G_PER_MOL) / acid.gPerMol / 100 : 0;
  return { low: perMg * strengthPercent.low, nominal: perMg * strengthPercent.nominal, high: perMg * strengthPercent.high };
}

/** An acid as weighed, mg, and its strength in mass percent (a certificate's or label's range). */
export type AcidPortion = { acidKey: string; massMg: number; strengthPercent: Interval };

/** Pure alkali taken up, mg: `koh` if all of it is KOH (add it to the need), `naoh` if all is NaOH. */
export type AlkaliTaken = { kohMg: Interval; naohMg: Interval };

function checkPortion(portion: AcidPortion, index: number): FormulationProblem[] {
  const pointer = `/acids/${index}`;
  const known = acidByKey(portion.acidKey);
  const name = known?.name ?? 'The acid';
  const { low, nominal, high } = portion.strengthPercent;
  const problems = [
    ...checkMass(portion.massMg, `${pointer}/massMg`, name),
    ...[low, nominal, high].flatMap((end) => checkPercent(end, `${pointer}/strengthPercent`, `The strength of ${name}`)),
  ];
  if (!known) problems.push(problem('value-out-of-range', `${pointer}/acidKey`, `There is no acid "${portion.acidKey}" in the list; choose one of it.`));
  if (problems.length === 0 && !(low <= nominal && nominal <= high))
    problems.push(problem('value-out-of-range', `${pointer}/strengthPercent`, `The strength of ${name} must run from low to high.`));
  return problems;
}

/** Moles, in mmol, of hydroxide that one portion takes at one end of its strength. */
function takenMmol(portion: AcidPortion, end: keyof Interval): number {
  const acid = acidByKey(portion.acidKey);
  if (!acid?.takesAlkali) return 0;
  return ((portion.massMg * portion.strengthPercent[end]) / 100 / acid.gPerMol) * acid.acidGroups;
}

/**
 * Alkali that the acids of a recipe take up. The low end is what a worst case may count on: acid
 * weaker than said leaves alkali over. Unknown acids, masses and strengths are refused at
 * "/acids/<index>/...".
 */
export function alkaliTakenByAcids(portions: readonly AcidPortion[]): Outcome<AlkaliTaken> {
  return whenSound(portions.flatMap(checkPortion), () => {
    const taken = (gPerMol: number): Interval => {
      const at = (end: keyof Interval): number => portions.reduce((sum, portion) => sum + takenMmol(portion, end), 0) * gPerMol;
      return { low: at('low'), nominal: at('nominal'), high: at('high') };
    };
    return { kohMg: taken(KOH_G_PER_MOL), naohMg: taken(NAOH_G_PER_MOL) };
  });
}
