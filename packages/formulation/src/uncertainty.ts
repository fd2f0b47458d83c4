import type { Combined, Contribution, Doubt, DoubtfulInput } from './combine-uncertainty.ts';
import { combineUncertainty, rectangular } from './combine-uncertainty.ts';
import { figure } from './check-number.ts';
import { needMetMg } from './alkali.ts';
import type { Interval } from './outcome.ts';
import type { BandInput } from './superfat-band.ts';
import { superfatBand } from './superfat-band.ts';

/** The band's input with names; a certified value is an expanded uncertainty, not a range of lots. */
export type NamedBandInput = Omit<BandInput, 'fats' | 'acids'> & {
  fats: (BandInput['fats'][number] & { name: string; certified?: boolean })[];
  acids?: (NonNullable<BandInput['acids']>[number] & { name?: string })[];
};

export type SuperfatUncertainty = {
  superfatPercent: number;
  standardUncertaintyPercent: number;
  /** Superfat plus and minus k = 2 standard uncertainties, kept within the worst case. */
  likelyPercent: Interval;
  /** Points of superfat each source adds, widest first. */
  contributions: Contribution[];
  words: string;
};

const K = 2;

/** A certificate's interval is its value and expanded uncertainty with k = 2, so half of it is u. */
function doubtOfSv(fat: NamedBandInput['fats'][number]): Doubt {
  const { low, nominal, high } = fat.saponificationValue;
  return fat.certified ? { value: nominal, standardUncertainty: (high - low) / 2 / K } : rectangular(fat.saponificationValue);
}

function inputsOf(input: NamedBandInput): DoubtfulInput[] {
  return [
    { what: 'purity of the sodium hydroxide', ...rectangular(input.purity.naohPercent) },
    { what: 'purity of the potassium hydroxide', ...rectangular(input.purity.kohPercent) },
    { what: 'weighing of sodium hydroxide', ...rectangular(input.naohMg) },
    { what: 'weighing of potassium hydroxide', ...rectangular(input.kohMg) },
    ...input.fats.flatMap((fat) => [
      { what: `saponification value of ${fat.name}`, ...doubtOfSv(fat) },
      { what: `weighing of ${fat.name}`, ...rectangular(fat.massMg) },
    ]),
    ...(input.acids ?? []).flatMap((acid, index) => [
      { what: `strength of ${acid.name ?? `acid ${index + 1}`}`, ...rectangular(acid.takesKohPerMg) },
      { what: `weighing of ${acid.name ?? `acid ${index + 1}`}`, ...rectangular(acid.massMg) },
    ]),
  ];
}

/** Sum of products of neighbours: mass times what a mg takes up. */
function pairs(values: readonly number[]): number {
  let sum = 0;
  for (let at = 0; at < values.length; at += 2) sum += (values[at] ?? 0) * (values[at + 1] ?? 0);
  return sum;
}

/** Superfat in percent as in `superfatBand`; inputs in the order of `inputsOf`, of so many fats. */
function superfatOf(values: readonly number[], fatCount: number): number {
  const [naoh = 0, koh = 0, naohMg = 0, kohMg = 0, ...rest] = values;
  const needMg = pairs(rest.slice(0, 2 * fatCount)) / 1000;
  const takenMg = pairs(rest.slice(2 * fatCount));
  return 100 * (1 - (needMetMg({ naohMg, kohMg }, { naoh, koh }) - takenMg) / needMg);
}

/** "the saponification value of Olive oil matters 10 times more than the weighing of it", in one sentence. */
function wordsFor(combined: Combined): string {
  const [first, second] = combined.contributions;
  if (!first || first.standardUncertainty === 0) return 'Nothing is in doubt: every value was given as exact.';
  const lead = `The ${first.what} makes ${figure(first.varianceSharePercent, 0)} % of the variance`;
  if (!second || second.standardUncertainty === 0) return `${lead}; nothing else is in doubt.`;
  return `${lead}, ${figure(first.standardUncertainty / second.standardUncertainty, 1)} times the doubt of the next, the ${second.what}.`;
}

/**
 * Standard uncertainty of the superfat, percentage points, and who makes it. Published ranges, purity
 * and accepted weighings count as rectangular, certificates as k = 2, all independent: errors that one
 * scale makes alike cancel in part between fat and alkali, which is left out. The likely range informs;
 * the gate stays the worst case of `superfatBand`. Inputs must have passed the recipe's checks.
 */
export function superfatUncertainty(input: NamedBandInput): SuperfatUncertainty {
  const combined = combineUncertainty((values) => superfatOf(values, input.fats.length), inputsOf(input));
  const band = superfatBand(input);
  const spread = K * combined.standardUncertainty;
  return {
    superfatPercent: combined.value,
    standardUncertaintyPercent: combined.standardUncertainty,
    likelyPercent: { low: Math.max(band.low, combined.value - spread), nominal: combined.value, high: Math.min(band.high, combined.value + spread) },
    contributions: combined.contributions.filter((each) => each.standardUncertainty > 0),
    words: wordsFor(combined),
  };
}
