import { KOH_G_PER_MOL, NAOH_G_PER_MOL, NAOH_PER_KOH } from './alkali.ts';
import { kohApparentHeatCapacity } from './koh-solution.ts';
import { naohSolutionEnthalpy, vapourPressureKPa } from './naoh-solution.ts';
import { whereRisingReaches } from './polynomial.ts';

/**
 * Enthalpies, in J per g with liquid water at 0 C as zero, of what goes into the lye pot and of what
 * comes out of it. Enthalpy, not specific heat, carries the balance: published specific heats of the
 * solution spread by 3 to 6 %.
 */

/** Water 4.18 J/(g K), 0 to 100 C; ice 2.11 J/(g K) near 0 C; fusion 333.55 J/g (CRC Handbook). */
const WATER_J_PER_G_K = 4.18;
const ICE_J_PER_G_K = 2.11;
const FUSION_J_PER_G = 333.55;

export function waterEnthalpy(t: number): number {
  return WATER_J_PER_G_K * t;
}

export function iceEnthalpy(t: number): number {
  return ICE_J_PER_G_K * t - FUSION_J_PER_G;
}

/** Dry alkali is taken to be at room temperature; 10 C either way moves the peak by about 2 C. */
const ROOM_C = 25;

/**
 * Heat of solution at infinite dilution and 25 C, kJ/mol: Parker, NSRDS-NBS 2 (1965), as in the NBS
 * tables of 1982. Older textbook tables end at -42.89 for NaOH; the newer value is also the hotter
 * one, by 1 to 6 C, and so the safer.
 */
export const NAOH_SOLUTION_KJ_PER_MOL = -44.51;
export const KOH_SOLUTION_KJ_PER_MOL = -57.61;

/**
 * Enthalpy of dry NaOH on the scale of Olsson's equation, J/g. The equation knows solutions only, so
 * the solid is placed above the partial enthalpy of NaOH in ever thinner solution, h + dh/dx as x
 * goes to 0, by the heat of solution at infinite dilution.
 */
export const DRY_NAOH_J_PER_G = ((): number => {
  const thin = 1e-5;
  const water = naohSolutionEnthalpy(0, ROOM_C);
  const partial = water + (naohSolutionEnthalpy(thin, ROOM_C) - water) / thin;
  return partial - (NAOH_SOLUTION_KJ_PER_MOL * 1000) / NAOH_G_PER_MOL;
})();

/** Integral heat of solution of NaOH in `moles` of water per mole at 25 C, kJ/mol. */
export function naohHeatOfSolution(moles: number): number {
  const waterG = moles * 18.0153;
  const totalG = waterG + NAOH_G_PER_MOL;
  const solution = totalG * naohSolutionEnthalpy(NAOH_G_PER_MOL / totalG, ROOM_C);
  const parts = waterG * naohSolutionEnthalpy(0, ROOM_C) + NAOH_G_PER_MOL * DRY_NAOH_J_PER_G;
  return (solution - parts) / 1000;
}

/** Masses in one unit (mg or g); the water is all liquid. */
export type Pot = { naoh: number; koh: number; water: number };

/** Share by which published heat capacities differ from one another, half of 6 %. */
const CAPACITY_SPREAD = 0.03;

const KOH_HEAT_J_PER_G = -(KOH_SOLUTION_KJ_PER_MOL * 1000) / KOH_G_PER_MOL;

/**
 * Enthalpy of a pot at t, per unit mass of its parts summed (J/g times the mass unit).
 *
 * KOH has no published table of heats against dilution, so its part is bounded from above: all of it
 * gives its heat at infinite dilution at 25 C, and the heat capacity of the pot, with the apparent
 * specific heat of KOH (Laliberte), is taken 3 % on the hot side for the spread of published data. The
 * order of dissolving does not change an enthalpy, so NaOH counts as dissolved first.
 */
export function potEnthalpy(pot: Pot, t: number): number {
  const naohSolution = pot.naoh + pot.water;
  const x = pot.naoh / naohSolution;
  const withoutKoh = naohSolution * naohSolutionEnthalpy(x, t);
  if (pot.koh === 0) return withoutKoh;
  const atRoom = naohSolution * naohSolutionEnthalpy(x, ROOM_C);
  const fraction = (pot.koh + pot.naoh) / (naohSolution + pot.koh);
  const warmed = withoutKoh - atRoom + pot.koh * kohApparentHeatCapacity(fraction, t) * (t - ROOM_C);
  return atRoom + (t > ROOM_C ? 1 - CAPACITY_SPREAD : 1 + CAPACITY_SPREAD) * warmed;
}

/** What the dry alkali brings to the balance, in the same unit as `potEnthalpy`. */
export function dryAlkaliEnthalpy(alkali: { naoh: number; koh: number }): number {
  return alkali.naoh * DRY_NAOH_J_PER_G + alkali.koh * KOH_HEAT_J_PER_G;
}

/** H+ + OH- -> H2O at 25 C, kJ/mol: -285.83 less -229.99, heats of formation in the NBS tables of 1982. */
export const NEUTRALISATION_KJ_PER_MOL = -55.84;

/**
 * Heat of the acids that are neutralised first, in the same unit as `potEnthalpy`. Weak acids and
 * solids give somewhat less, so this is the hot side.
 * @param acidKoh pure KOH the acids take up in all
 */
export function neutralisationHeat(alkali: { naoh: number; koh: number }, acidKoh: number): number {
  const koh = Math.min(acidKoh, alkali.naoh / NAOH_PER_KOH + alkali.koh);
  return (-NEUTRALISATION_KJ_PER_MOL * 1000 * koh) / KOH_G_PER_MOL;
}

/** Temperature at which the pot holds this enthalpy, between -20 and 250 C. */
export function temperatureOfPot(pot: Pot, enthalpy: number): number {
  return whereRisingReaches((t) => potEnthalpy(pot, t), enthalpy, -20, 250);
}

/** Vapour pressure over the pot, kPa; over KOH that of pure water, which is more: an upper bound. */
export function potVapourKPa(pot: Pot, t: number): number {
  const x = pot.koh > 0 ? 0 : pot.naoh / (pot.naoh + pot.water);
  return vapourPressureKPa(x, t);
}
