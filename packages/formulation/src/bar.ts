import { KOH_G_PER_MOL } from './alkali.ts';
import { molarMass } from './molar-mass.ts';
import type { Interval, Outcome } from './outcome.ts';
import { checkMass, checkPercent, whenSound } from './when-sound.ts';

const GLYCEROL_G_PER_MOL = molarMass({ C: 3, H: 8, O: 3 });

/**
 * What the poured batter becomes. Masses in mg: `fatMg` all fats, `needMg` their need in pure KOH,
 * `glycerideNeedMg` the part of it that waxes do not cause, `alkaliMg` pure hydroxide,
 * `impuritiesMg` what the lots hold besides, `waterMg` all water, `otherMg` additives and dry matter.
 */
export type BarInput = {
  needMg: number;
  glycerideNeedMg: number;
  superfatPercent: number;
  fatMg: number;
  alkaliMg: number;
  impuritiesMg: number;
  waterMg: number;
  otherMg: number;
};

export type Bar = {
  pouredMg: number;
  waterAtPourPercent: number;
  /** At most: partial glycerides, free fatty acids and unsaponifiables give none. */
  glycerolMg: number;
  freeFatMg: number;
  soapMg: number;
  /** What is not water and not free alkali. */
  solidsMg: number;
  curedMg: Interval;
};

/** Water that a bar keeps after weeks on the rack, percent of the bar; common practice, no source. */
const CURED_WATER_PERCENT: Interval = { low: 5, nominal: 10, high: 15 };

/**
 * Glycerol: one mole for three of hydroxide that reached a glyceride, 92.09 / (3 x 56.105) of the KOH
 * need met. Soap is what is left of the mass balance fat + alkali = soap + glycerol + free fat. The
 * cured mass holds the solids and 5 to 15 % water, and never more than was poured; nothing else is
 * taken to evaporate. A superfat below 0 would leave free alkali and is refused: such a bar is waste.
 */
export function barOf(input: BarInput): Outcome<Bar> {
  const { needMg, glycerideNeedMg, superfatPercent, fatMg, alkaliMg, impuritiesMg, waterMg, otherMg } = input;
  const problems = [
    ...checkMass(needMg, '/needMg', 'The need', 1),
    ...checkMass(glycerideNeedMg, '/glycerideNeedMg', 'The need of the glycerides'),
    ...checkPercent(superfatPercent, '/superfatPercent', 'The superfat'),
    ...checkMass(fatMg, '/fatMg', 'The fat', 1),
    ...checkMass(alkaliMg, '/alkaliMg', 'The alkali'),
    ...checkMass(impuritiesMg, '/impuritiesMg', 'What the lots hold besides'),
    ...checkMass(waterMg, '/waterMg', 'The water'),
    ...checkMass(otherMg, '/otherMg', 'Additives and dry matter'),
  ];
  return whenSound(problems, () => {
    const metShare = 1 - superfatPercent / 100;
    const glycerolMg = (Math.min(needMg, glycerideNeedMg) * metShare * GLYCEROL_G_PER_MOL) / (3 * KOH_G_PER_MOL);
    const freeFatMg = fatMg * (1 - metShare);
    const solidsMg = fatMg + alkaliMg + impuritiesMg + otherMg;
    const pouredMg = solidsMg + waterMg;
    const cured = (percent: number): number => Math.min(pouredMg, solidsMg / (1 - percent / 100));
    return {
      pouredMg,
      waterAtPourPercent: (100 * waterMg) / pouredMg,
      glycerolMg,
      freeFatMg,
      soapMg: fatMg - freeFatMg + alkaliMg - glycerolMg,
      solidsMg,
      curedMg: { low: cured(CURED_WATER_PERCENT.low), nominal: cured(CURED_WATER_PERCENT.nominal), high: cured(CURED_WATER_PERCENT.high) },
    };
  });
}
