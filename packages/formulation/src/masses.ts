import { alkaliToWeigh, assayAt, needOfKohMg } from './alkali.ts';
import { fatByKey } from './fats.ts';
import { liquidByKey } from './liquids.ts';
import type { Interval } from './outcome.ts';
import type { FatShare, Line, LineKind, Purity, RecipeInput } from './recipe.ts';
import { saponificationInBatch } from './saponification-in-batch.ts';

/**
 * Published range, or the certificate's value with its expanded uncertainty either way. For a wax the low end is
 * only what is sure to react in a batch, whatever a certificate says: its value comes from hours of boiling.
 */
export function saponificationValueOf(share: FatShare): Interval {
  const fat = fatByKey(share.fatKey);
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
 * Fat shares are divided by their sum, so 99.99 % still gives the whole mass. Alkali is cut to whole
 * mg, never rounded up: planned alkali is never more than the exact need. Water follows from the lye
 * concentration c of the alkali as weighed: water = alkali (100 - c) / c. Each other liquid weighs
 * its share of that water over its water content; the rest is plain water, part of it ice.
 */
export function recipeLines(recipe: RecipeInput, purity: Purity, fatMassMg: number): Line[] {
  const shareSum = recipe.fats.reduce((sum, fat) => sum + fat.sharePercent, 0);
  const fats = recipe.fats.map((fat) =>
    line(`fat:${fat.fatKey}`, 'fat', fatByKey(fat.fatKey)?.name ?? fat.fatKey, Math.round((fatMassMg * fat.sharePercent) / shareSum)),
  );
  const needMg = recipe.fats.reduce((sum, fat) => sum + needOfKohMg((fatMassMg * fat.sharePercent) / shareSum, saponificationValueOf(fat).nominal), 0);
  const exact = alkaliToWeigh(needMg, recipe.alkali.kohSharePercent, recipe.superfatPercent, assayAt(purity, 'nominal'));
  const naohMg = Math.floor(exact.naohMg);
  const kohMg = Math.floor(exact.kohMg);
  const waterMg = ((naohMg + kohMg) * (100 - recipe.lyeConcentrationPercent)) / recipe.lyeConcentrationPercent;
  return [
    ...fats,
    line('naoh', 'naoh', 'Sodium hydroxide', naohMg),
    line('koh', 'koh', 'Potassium hydroxide', kohMg),
    ...liquidLines(recipe, waterMg),
    ...recipe.additives.map((additive, index) =>
      line(`additive:${index}`, 'additive', additive.name.trim(), Math.round((fatMassMg * additive.shareOfFatPercent) / 100)),
    ),
  ].filter((each) => each.massMg > 0);
}

/**
 * Water, ice and other liquids for a mass of water in mg. Ice and plain water are rounded together,
 * so that their sum is right to the mg.
 */
function liquidLines(recipe: RecipeInput, waterMg: number): Line[] {
  const others = recipe.liquids.map((entry) => {
    const liquid = liquidByKey(entry.liquidKey);
    const massMg = (waterMg * entry.shareOfWaterPercent) / (liquid?.waterPercent ?? 100);
    return line(`liquid:${entry.liquidKey}`, 'liquid', liquid?.name ?? entry.liquidKey, Math.round(massMg));
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
    return sum + (each.massMg * (liquidByKey(each.key.slice('liquid:'.length))?.waterPercent ?? 0)) / 100;
  }, 0);
}
