import { checkNumber, figure } from './check-number.ts';
import { fatOfShare } from './fat-of-share.ts';
import type { AcidClass } from './fatty-acids.ts';
import { fattyAcidRanges } from './fatty-acids.ts';
import { iodineRangeFromAcids } from './iodine-value.ts';
import type { FormulationProblem, Outcome } from './outcome.ts';
import { problem, refuse, succeed } from './outcome.ts';
import type { Bounds } from './profile-bounds.ts';
import type { FatShare } from './recipe.ts';
import { profileBounds } from './profile-bounds.ts';

/** A fat and its share of all fat; shares are weighed against their sum, so they need not be 100. */
export type BlendShare = Pick<FatShare, 'fatKey' | 'sharePercent' | 'own'>;

/**
 * What the fats of a recipe are made of, in percent by mass of their fatty acids, and the iodine value
 * in g per 100 g. `shares` is absent when a fat has no published acids, `iodineValue` when one has
 * neither a published iodine value nor acids; the lists name those fats.
 */
export type BlendAcids = {
  shares?: Record<AcidClass, Bounds>;
  iodineValue?: Bounds;
  withoutAcids: string[];
  withoutIodineValue: string[];
  words: string;
};

const CLASSES: readonly AcidClass[] = ['saturated', 'monounsaturated', 'polyunsaturated'];

function checkBlend(blend: readonly BlendShare[]): FormulationProblem[] {
  if (blend.length === 0) return [problem('value-missing', '/fats', 'The recipe has no fat; add at least one.')];
  return blend.flatMap((share, index) => {
    const { fatKey, sharePercent } = share;
    const fat = fatOfShare(share);
    return [
      ...(fat ? [] : [problem('fat-unknown', `/fats/${index}/fatKey`, `There is no fat "${fatKey}" in the list; choose one of it.`, { fatKey })]),
      ...checkNumber(sharePercent, `/fats/${index}/sharePercent`, { name: `The share of ${fat?.name ?? fatKey}`, unit: '%', min: 0.01, max: 100 }),
    ];
  });
}

/** Share of one class in one fat, percent of its acids, over every composition its ranges allow. */
function classBounds(fatKey: string, acidClass: AcidClass): Bounds | undefined {
  const ranges = fattyAcidRanges(fatKey);
  return ranges && profileBounds(ranges.acids, (acid) => (acid.acidClass === acidClass ? 100 : 0));
}

/** The published range where both ends are known, else what the published acids allow. */
function iodineBounds(share: BlendShare): Bounds | undefined {
  return fatOfShare(share)?.iodineValue ?? iodineRangeFromAcids(share.fatKey);
}

/** Mean over the blend by mass of fat; undefined as soon as one fat lacks its bounds. */
function blendBounds(blend: readonly BlendShare[], boundsOf: (share: BlendShare) => Bounds | undefined): Bounds | undefined {
  const total = blend.reduce((sum, share) => sum + share.sharePercent, 0);
  const mean = { low: 0, high: 0 };
  for (const share of blend) {
    const bounds = boundsOf(share);
    if (!bounds) return undefined;
    mean.low += (bounds.low * share.sharePercent) / total;
    mean.high += (bounds.high * share.sharePercent) / total;
  }
  return mean;
}

function namesWithout(blend: readonly BlendShare[], boundsOf: (share: BlendShare) => Bounds | undefined): string[] {
  return blend.filter((share) => !boundsOf(share)).map((share) => fatOfShare(share)?.name ?? share.fatKey);
}

function sharesOf(blend: readonly BlendShare[]): Record<AcidClass, Bounds> | undefined {
  const [saturated, monounsaturated, polyunsaturated] = CLASSES.map((each) => blendBounds(blend, (share) => classBounds(share.fatKey, each)));
  return saturated && monounsaturated && polyunsaturated && { saturated, monounsaturated, polyunsaturated };
}

const between = ({ low, high }: Bounds): string => `${figure(low, 0)} to ${figure(high, 0)}`;

function wordsOf(shares: Record<AcidClass, Bounds> | undefined, withoutAcids: string[], iodine: Bounds | undefined, withoutIodine: string[]): string {
  const acids = shares
    ? `Of the fatty acids ${between(shares.saturated)} % have no double bond (saturated), ${between(shares.monounsaturated)} % have one (monounsaturated) ` +
      `and ${between(shares.polyunsaturated)} % have several (polyunsaturated).`
    : `The shares of the fatty acids are not known: no composition is published here for ${withoutAcids.join(', ')}.`;
  const value = iodine
    ? `Iodine value ${between(iodine)} g per 100 g: the more double bonds, the higher.`
    : `The iodine value is not known: none is published here for ${withoutIodine.join(', ')}.`;
  return `${acids} ${value}`;
}

/**
 * Shares of saturated, mono- and polyunsaturated acids of a blend, and its iodine value, as worst-case
 * ranges: each end of each class is reached by some lot, though not all at once.
 *
 * Limit: fats are weighed by mass, as if all held the same share of acid; it is 94 % in coconut oil and
 * 96 % in olive oil, which moves a share by under a point. Ranges hold for fresh fat before soap is made.
 */
export function acidSharesOfBlend(blend: readonly BlendShare[]): Outcome<BlendAcids> {
  const problems = checkBlend(blend);
  if (problems.length > 0) return refuse(problems);
  const withoutAcids = namesWithout(blend, (share) => classBounds(share.fatKey, 'saturated'));
  const withoutIodineValue = namesWithout(blend, iodineBounds);
  const shares = sharesOf(blend);
  const iodineValue = blendBounds(blend, iodineBounds);
  return succeed({
    ...(shares ? { shares } : {}),
    ...(iodineValue ? { iodineValue } : {}),
    withoutAcids,
    withoutIodineValue,
    words: wordsOf(shares, withoutAcids, iodineValue, withoutIodineValue),
  });
}
