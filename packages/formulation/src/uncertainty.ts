import type { Combined, Contribution, Doubt, DoubtfulInput } from './combine-uncertainty.ts';
import { combineUncertainty, rectangular } from './combine-uncertainty.ts';
import { figure } from './check-number.ts';
import { needMetMg } from './alkali.ts';
import type { Interval } from './outcome.ts';
import type { BandInput } from './superfat-band.ts';
import { superfatBand } from './superfat-band.ts';

/** The band's input with names; a certified value is an expanded uncertainty, not a range of lots. */
export type NamedBandInput = Omit<BandInput, 'fats'> & { fats: (BandInput['fats'][number] & { name: string; certified?: boolean })[] };

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
  ];
}

/** Superfat in percent; inputs in the order of `inputsOf`. */
function superfatOf(values: readonly number[]): number {
  const [naoh = 0, koh = 0, naohMg = 0, kohMg = 0, ...fats] = values;
  let needMg = 0;
  for (let at = 0; at < fats.length; at += 2) needMg += ((fats[at] ?? 0) * (fats[at + 1] ?? 0)) / 1000;
  return 100 * (1 - needMetMg({ naohMg, kohMg }, { naoh, koh }) / needMg);
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
  const combined = combineUncertainty(superfatOf, inputsOf(input));
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
