import { acidByKey, kohTakenPerMg } from './acids.ts';
import { alkaliToWeigh, assayAt, needOfKohMg } from './alkali.ts';
import { fatOfShare } from './fat-of-share.ts';
import { liquidByKey } from './liquids.ts';
import type { Interval } from './outcome.ts';
import type { FatShare, Line, LineKind, Purity, RecipeInput } from './recipe.ts';
import { saponificationInBatch } from './saponification-in-batch.ts';

/**
 * Published range, or the certificate's value with its expanded uncertainty either way. For a wax the low end is
 * only what is sure to react in a batch, whatever a certificate says: its value comes from hours of boiling.
 */
export function saponificationValueOf(share: FatShare): Interval {
  const fat = fatOfShare(share);
  if (!fat) return { low: 0, nominal: 0, high: 0 };
  return saponificationInBatch({ ...fat, saponificationValue: share.certificateSv ? certified(share.certificateSv) : fat.saponificationValue });
}

function certified({ valueMgKohPerG: nominal, expandedUncertainty }: NonNullable<FatShare['certificateSv']>): Interval {
  return { low: nominal - expandedUncertainty, nominal, high: nominal + expandedUncertainty };
}

/**
 * All lines of a recipe for a mass of fat, whole mg, in weighing order; lines without mass are left
 * out. The recipe must have passed `checkRecipe`.
 *
 * Fat shares are divided by their sum, so 99.99 % still gives the whole mass; late fats come last.
 * Acids take up alkali before the fats do, so the alkali is raised by what they take. Alkali is cut to
 * whole mg, never rounded up: planned alkali is never more than the exact need. Water follows from the
 * lye concentration c of the alkali as weighed: water = alkali (100 - c) / c. Each other liquid weighs
 * its share of that water over its water content; the rest is plain water, part of it ice.
 * @param acidAsWeighed mass of an acid, mg, from its exact mass: what its scale can show, for a plan
 */
export function recipeLines(recipe: RecipeInput, purity: Purity, fatMassMg: number, acidAsWeighed: (massMg: number) => number = Math.round): Line[] {
  const shareSum = recipe.fats.reduce((sum, fat) => sum + fat.sharePercent, 0);
  const exactOf = (fat: FatShare): number => (fatMassMg * fat.sharePercent) / shareSum;
  const needMg = recipe.fats.reduce((sum, fat) => sum + needOfKohMg(exactOf(fat), saponificationValueOf(fat).nominal), 0);
  const acids = (recipe.acids ?? []).map((acid) => ({ ...acid, massMg: acidAsWeighed((fatMassMg * acid.shareOfFatPercent) / 100) }));
  const takenMg = acids.reduce((sum, acid) => sum + acid.massMg * kohTakenPerMg(acid.acidKey, acid.strengthPercent).nominal, 0);
  const perNeed = 1 - recipe.superfatPercent / 100;
  const exact = alkaliToWeigh(needMg + takenMg / perNeed, recipe.alkali.kohSharePercent, recipe.superfatPercent, assayAt(purity, 'nominal'));
  const naohMg = Math.floor(exact.naohMg);
  const kohMg = Math.floor(exact.kohMg);
  const waterMg = ((naohMg + kohMg) * (100 - recipe.lyeConcentrationPercent)) / recipe.lyeConcentrationPercent;
  return [
    ...[...recipe.fats].sort((a, b) => Number(a.late ?? false) - Number(b.late ?? false)).map((fat) => fatLine(fat, Math.round(exactOf(fat)))),
    line('naoh', 'naoh', 'Sodium hydroxide', naohMg),
    line('koh', 'koh', 'Potassium hydroxide', kohMg),
    ...liquidLines(recipe, waterMg),
    ...acids.map((acid) => line(`acid:${acid.acidKey}`, 'acid', acidByKey(acid.acidKey)?.name ?? acid.acidKey, acid.massMg)),
    ...recipe.additives.map((additive, index) =>
      line(`additive:${index}`, 'additive', additive.name.trim(), Math.round((fatMassMg * additive.shareOfFatPercent) / 100)),
    ),
  ].filter((each) => each.massMg > 0);
}

function fatLine(fat: FatShare, massMg: number): Line {
  const plain = line(`fat:${fat.fatKey}`, 'fat', fatOfShare(fat)?.name ?? fat.fatKey, massMg);
  return fat.late ? { ...plain, late: true } : plain;
}

/**
 * Water, ice and other liquids for a mass of water in mg. Ice and plain water are rounded together,
 * so that their sum is right to the mg; so are the two parts of a liquid of which some goes into the
 * fats.
 */
function liquidLines(recipe: RecipeInput, waterMg: number): Line[] {
  const others = recipe.liquids.flatMap((entry): Line[] => {
    const liquid = liquidByKey(entry.liquidKey);
    const name = liquid?.name ?? entry.liquidKey;
    const massMg = Math.round((waterMg * entry.shareOfWaterPercent) / (liquid?.waterPercent ?? 100));
    const intoFatsMg = Math.round((massMg * (entry.intoFatsPercent ?? 0)) / 100);
    const key = `liquid:${entry.liquidKey}`;
    return [line(key, 'liquid', name, massMg - intoFatsMg), { ...line(`${key}:fats`, 'liquid', `${name} for the fats`, intoFatsMg), into: 'fats' }];
  });
  const otherShare = recipe.liquids.reduce((sum, entry) => sum + entry.shareOfWaterPercent, 0);
  const plainMg = waterMg * Math.max(0, 1 - otherShare / 100);
  const iceMg = Math.round((plainMg * recipe.iceSharePercent) / 100);
  return [line('water', 'water', 'Water', Math.round(plainMg) - iceMg), line('ice', 'ice', 'Ice', iceMg), ...others];
}

function line(key: string, kind: LineKind, name: string, massMg: number): Line {
  return { key, kind, name, massMg };
}

/** Mass of the line with this key, 0 if it has none. */
export function massOf(lines: readonly Line[], key: string): number {
  return lines.find((each) => each.key === key)?.massMg ?? 0;
}

/** Sum over the lines of these kinds, mg. */
export function totalMg(lines: readonly Line[], ...kinds: LineKind[]): number {
  return lines.reduce((sum, each) => (kinds.includes(each.kind) ? sum + each.massMg : sum), 0);
}

/** Water in the liquid lines other than plain water and ice, mg; their dry matter is the rest. */
export function waterInLiquidsMg(lines: readonly Line[]): number {
  return lines.reduce((sum, each) => {
    if (each.kind !== 'liquid') return sum;
    return sum + (each.massMg * (liquidByKey(each.key.split(':')[1] ?? '')?.waterPercent ?? 0)) / 100;
  }, 0);
}
