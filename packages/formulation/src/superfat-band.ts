import { assayAt, needMetMg } from './alkali.ts';
import type { Interval } from './outcome.ts';
import type { Purity } from './recipe.ts';

/** What each mass can be in truth: equal ends for an exact mass, wide ends for an accepted weighing. */
export type BandInput = {
  fats: { massMg: Interval; saponificationValue: Interval }[];
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

/**
 * Superfat band, percent: the lowest and highest share of the saponifiable need that can be left.
 *
 * superfat = 100 (1 - A / N), N = sum of m SV over the fats, A = need met by the alkali. Each
 * quantity appears once and superfat falls with A and rises with N, so interval arithmetic is exact
 * here: the low end is the greatest A over the least N. It is a worst case, not a likely case: all
 * errors lean the same way at once. A low end of 0 or more means no free alkali within the stated
 * errors; below 0 it is the excess of alkali as a share of the need.
 */
export function superfatBand(input: BandInput): Interval {
  const met = (end: keyof Interval): number => needMetMg({ naohMg: input.naohMg[end], kohMg: input.kohMg[end] }, assayAt(input.purity, end));
  const superfat = (alkaliEnd: keyof Interval, needEnd: keyof Interval): number => {
    const needMg = totalNeedMg(input.fats, needEnd);
    return needMg > 0 ? Math.max(-100, 100 * (1 - met(alkaliEnd) / needMg)) : -100;
  };
  return {
    low: superfat('high', 'low'),
    nominal: superfat('nominal', 'nominal'),
    high: superfat('low', 'high'),
  };
}

/** A source of doubt and the points of superfat it costs at the low end when it acts alone. */
export type BandCause = { what: 'oil variability' | 'alkali purity' | 'weighing'; lowersByPercent: number };

/**
 * How far each cause alone pulls the low end below the nominal, widest first. The parts do not add up
 * exactly (they multiply), but their order says what to improve.
 */
export function bandCauses(input: BandInput): BandCause[] {
  const fixedFats = input.fats.map((fat) => ({
    massMg: fat.massMg,
    saponificationValue: exactly(fat.saponificationValue.nominal),
  }));
  const fixedMasses = input.fats.map((fat) => ({
    massMg: exactly(fat.massMg.nominal),
    saponificationValue: fat.saponificationValue,
  }));
  const bare = fixedMasses.map((fat, index) => ({
    massMg: fat.massMg,
    saponificationValue: fixedFats[index]?.saponificationValue ?? fat.saponificationValue,
  }));
  const naohMg = exactly(input.naohMg.nominal);
  const kohMg = exactly(input.kohMg.nominal);
  const purity = {
    naohPercent: exactly(input.purity.naohPercent.nominal),
    kohPercent: exactly(input.purity.kohPercent.nominal),
  };
  const lowers = (alone: BandInput): number => {
    const band = superfatBand(alone);
    return band.nominal - band.low;
  };
  const causes: BandCause[] = [
    { what: 'oil variability', lowersByPercent: lowers({ fats: fixedMasses, naohMg, kohMg, purity }) },
    { what: 'alkali purity', lowersByPercent: lowers({ fats: bare, naohMg, kohMg, purity: input.purity }) },
    {
      what: 'weighing',
      lowersByPercent: lowers({ fats: fixedFats, naohMg: input.naohMg, kohMg: input.kohMg, purity }),
    },
  ];
  return causes.sort((a, b) => b.lowersByPercent - a.lowersByPercent);
}
