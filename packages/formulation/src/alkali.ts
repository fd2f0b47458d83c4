import type { Interval } from './outcome.ts';

/**
 * Stoichiometry of saponification. One mole of ester takes one mole of hydroxide, whichever metal it
 * comes with, so a need stated in potassium hydroxide (the saponification value) is turned into
 * sodium hydroxide by the ratio of the molar masses.
 */

/** Standard atomic weights, g/mol (IUPAC/CIAAW 2021; abridged where an interval is given). */
export const ATOMIC_WEIGHT = { H: 1.008, C: 12.011, O: 15.999, Na: 22.98977, K: 39.0983 } as const;

export const NAOH_G_PER_MOL = ATOMIC_WEIGHT.Na + ATOMIC_WEIGHT.O + ATOMIC_WEIGHT.H;
export const KOH_G_PER_MOL = ATOMIC_WEIGHT.K + ATOMIC_WEIGHT.O + ATOMIC_WEIGHT.H;

/** 0.71289: grams of NaOH that do the work of one gram of KOH. */
export const NAOH_PER_KOH = NAOH_G_PER_MOL / KOH_G_PER_MOL;

/** Mass of fat with its saponification value; need is in mg of pure KOH, SV in mg per g. */
export function needOfKohMg(fatMassMg: number, saponificationValue: number): number {
  return (fatMassMg / 1000) * saponificationValue;
}

export type AlkaliMasses = { naohMg: number; kohMg: number };

/**
 * Alkali to weigh, not yet rounded, for a need in mg of pure KOH.
 * @param kohSharePercent share of the need that potassium hydroxide meets
 * @param superfatPercent share of the need left unmet
 * @param purityPercent nominal assays: the less pure the lot, the more of it is weighed
 */
export function alkaliToWeigh(needMg: number, kohSharePercent: number, superfatPercent: number, purityPercent: { naoh: number; koh: number }): AlkaliMasses {
  const metMg = needMg * (1 - superfatPercent / 100);
  const byKoh = kohSharePercent / 100;
  return {
    naohMg: (metMg * (1 - byKoh) * NAOH_PER_KOH * 100) / purityPercent.naoh,
    kohMg: (metMg * byKoh * 100) / purityPercent.koh,
  };
}

/** The need, in mg of pure KOH, that these weighed masses meet at these assays (mass percent). */
export function needMetMg(masses: AlkaliMasses, purityPercent: { naoh: number; koh: number }): number {
  return (masses.naohMg * purityPercent.naoh) / 100 / NAOH_PER_KOH + (masses.kohMg * purityPercent.koh) / 100;
}

/** One end (or the middle) of both assays. */
export function assayAt(purity: { naohPercent: Interval; kohPercent: Interval }, end: keyof Interval): { naoh: number; koh: number } {
  return { naoh: purity.naohPercent[end], koh: purity.kohPercent[end] };
}
