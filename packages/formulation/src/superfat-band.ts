import { assayAt, needMetMg } from './alkali.ts';
import type { Interval } from './outcome.ts';
import type { Purity } from './recipe.ts';

/** What each mass can be in truth: equal ends for an exact mass, wide ends for an accepted weighing. */
export type BandInput = {
  fats: { massMg: Interval; saponificationValue: Interval }[];
  /** Acids as weighed, and the pure KOH one mg of each takes up, mg. */
  acids?: { massMg: Interval; takesKohPerMg: Interval }[];
  naohMg: Interval;
  kohMg: Interval;
  purity: Purity;
};

export function exactly(value: number): Interval {
  return { low: value, nominal: value, high: value };
}

/** N at one end of every mass and every saponification value, mg of pure KOH. */
function totalNeedMg(fats: BandInput['fats'], end: keyof Interval): number {
  return fats.reduce((sum, fat) => sum + (fat.massMg[end] / 1000) * fat.saponificationValue[end], 0);
}

/** What the acids take at one end of every mass and strength, mg of pure KOH. */
function totalTakenMg(acids: BandInput['acids'], end: keyof Interval): number {
  return (acids ?? []).reduce((sum, acid) => sum + acid.massMg[end] * acid.takesKohPerMg[end], 0);
}

/**
 * Superfat band, percent: the lowest and highest share of the saponifiable need that can be left.
 *
 * superfat = 100 (1 - (A - T) / N), N = sum of m SV over the fats, A = need met by the alkali, T = what
 * acids take of the alkali before the fats do. Least acid is on the side of least superfat. Each
 * quantity appears once and superfat falls with A and rises with N, so interval arithmetic is exact
 * here: the low end is the greatest A over the least N. It is a worst case, not a likely case: all
 * errors lean the same way at once. A low end of 0 or more means no free alkali within the stated
 * errors; below 0 it is the excess of alkali as a share of the need.
 */
export function superfatBand(input: BandInput): Interval {
  const met = (end: keyof Interval): number => needMetMg({ naohMg: input.naohMg[end], kohMg: input.kohMg[end] }, assayAt(input.purity, end));
  const superfat = (alkaliEnd: keyof Interval, needEnd: keyof Interval): number => {
    const needMg = totalNeedMg(input.fats, needEnd);
    const left = Math.max(0, met(alkaliEnd) - totalTakenMg(input.acids, needEnd));
    return needMg > 0 ? Math.max(-100, 100 * (1 - left / needMg)) : -100;
  };
  return {
    low: superfat('high', 'low'),
    nominal: superfat('nominal', 'nominal'),
    high: superfat('low', 'high'),
  };
}

/** A source of doubt and the points of superfat it costs at the low end when it acts alone. */
export type BandCause = { what: 'oil variability' | 'alkali purity' | 'acid strength' | 'weighing'; lowersByPercent: number };

/**
 * How far each cause alone pulls the low end below the nominal, widest first. The parts do not add up
 * exactly (they multiply), but their order says what to improve.
 */
export function bandCauses(input: BandInput): BandCause[] {
  const fats = (mass: boolean, value: boolean): BandInput['fats'] =>
    input.fats.map((fat) => ({
      massMg: mass ? fat.massMg : exactly(fat.massMg.nominal),
      saponificationValue: value ? fat.saponificationValue : exactly(fat.saponificationValue.nominal),
    }));
  const acids = (mass: boolean, strength: boolean): NonNullable<BandInput['acids']> =>
    (input.acids ?? []).map((acid) => ({
      massMg: mass ? acid.massMg : exactly(acid.massMg.nominal),
      takesKohPerMg: strength ? acid.takesKohPerMg : exactly(acid.takesKohPerMg.nominal),
    }));
  const alkali = { naohMg: exactly(input.naohMg.nominal), kohMg: exactly(input.kohMg.nominal) };
  const purity = {
    naohPercent: exactly(input.purity.naohPercent.nominal),
    kohPercent: exactly(input.purity.kohPercent.nominal),
  };
  const bare: BandInput = { fats: fats(false, false), acids: acids(false, false), ...alkali, purity };
  const lowers = (alone: Partial<BandInput>): number => {
    const band = superfatBand({ ...bare, ...alone });
    return band.nominal - band.low;
  };
  const causes: BandCause[] = [
    { what: 'oil variability', lowersByPercent: lowers({ fats: fats(false, true) }) },
    { what: 'alkali purity', lowersByPercent: lowers({ purity: input.purity }) },
    ...((input.acids ?? []).length > 0 ? [{ what: 'acid strength' as const, lowersByPercent: lowers({ acids: acids(false, true) }) }] : []),
    { what: 'weighing', lowersByPercent: lowers({ fats: fats(true, false), acids: acids(true, false), naohMg: input.naohMg, kohMg: input.kohMg }) },
  ];
  return causes.sort((a, b) => b.lowersByPercent - a.lowersByPercent);
}
