import { naohBoilingPointC } from './naoh-solution.ts';
import type { PeakTemperature, Steam } from './recipe.ts';
import type { Pot } from './solution-heat.ts';
import { dryAlkaliEnthalpy, iceEnthalpy, neutralisationHeat, potEnthalpy, potVapourKPa, temperatureOfPot, waterEnthalpy } from './solution-heat.ts';
import { whereRisingReaches } from './polynomial.ts';

/** What goes into the lye pot, masses in mg; water is all liquid water, ice apart. */
export type LyePot = {
  naohMg: number;
  kohMg: number;
  waterMg: number;
  waterTemperatureC: number;
  iceMg: number;
  iceTemperatureC: number;
  /** Pure KOH that acids in the liquid take up, mg: they set free their own heat. */
  acidKohMg?: number;
};

/** More than any pot holds, mg: past it the arithmetic itself goes wrong. */
const MOST_MG = 1e12;

/** Masses from 0 with some water or ice, temperatures between those of a freezer and of steam. */
export function isPot(lye: LyePot): boolean {
  const masses = [lye.naohMg, lye.kohMg, lye.waterMg, lye.iceMg, lye.acidKohMg ?? 0];
  const temperatures = [lye.waterTemperatureC, lye.iceTemperatureC];
  const sound =
    masses.every((mass) => Number.isFinite(mass) && mass >= 0 && mass <= MOST_MG) && temperatures.every((t) => Number.isFinite(t) && t >= -100 && t <= 200);
  return sound && lye.waterMg + lye.iceMg > 0;
}

/** Where a figure is missing the pot is judged as the worst: an unknown must never look mild. */
const UNKNOWN: PeakTemperature = {
  temperatureC: Infinity,
  boilingPointC: 100,
  kind: 'upper bound',
  iceLeftMg: 0,
  steam: 'boiling likely',
  source: 'No balance: a mass or temperature of the pot is not known.',
};

/** The path is looked at after every fiftieth of the alkali: the hottest point may come before the end. */
const STEPS = 50;

/** The stirred pot at one moment: its temperature, the ice still in it, the vapour pressure over it. */
export type Moment = { temperatureC: number; iceLeftMg: number; vapourKPa: number };

/**
 * The pot after a share of its alkali, well stirred and without any loss of heat: the enthalpy of
 * water, ice and dry alkali is shared out. Ice melts first; while some is left the pot is shown at
 * 0 C, though in truth lye and ice go below that.
 */
export function momentAfter(share: number, lye: LyePot): Moment {
  const alkali = { naoh: lye.naohMg * share, koh: lye.kohMg * share };
  const enthalpy =
    neutralisationHeat(alkali, lye.acidKohMg ?? 0) +
    dryAlkaliEnthalpy(alkali) +
    lye.waterMg * waterEnthalpy(lye.waterTemperatureC) +
    lye.iceMg * iceEnthalpy(lye.iceTemperatureC);
  const melted: Pot = { ...alkali, water: lye.waterMg + lye.iceMg };
  const temperatureC = temperatureOfPot(melted, enthalpy);
  if (temperatureC >= 0 || lye.iceMg === 0) {
    return { temperatureC, iceLeftMg: 0, vapourKPa: potVapourKPa(melted, temperatureC) };
  }
  const heldWithMelted = (meltedMg: number): number =>
    potEnthalpy({ ...alkali, water: lye.waterMg + meltedMg + 1 }, 0) + (lye.iceMg - meltedMg) * iceEnthalpy(0);
  const meltedMg = whereRisingReaches(heldWithMelted, enthalpy, 0, lye.iceMg);
  return { temperatureC: 0, iceLeftMg: Math.round(lye.iceMg - meltedMg), vapourKPa: potVapourKPa(melted, 0) };
}

/**
 * How much steam to expect. The limits are ours, set so that they agree with common practice (no
 * published source): half of the water as ice keeps a one-in-three lye from steaming, three quarters
 * give practically none, no ice steams. At 100 C the water around a dissolving bead boils, although
 * the mixed solution itself boils only well above.
 */
function steamAt(peakC: number, vapourKPa: number, boilingPointC: number): Steam {
  if (peakC >= Math.min(100, boilingPointC)) return 'boiling likely';
  if (vapourKPa >= 25) return 'likely';
  return vapourKPa >= 8 ? 'little' : 'practically none';
}

const SOURCE_NAOH =
  'Enthalpy balance: Olsson, Jernqvist and Aly 1997; dry NaOH by -44.51 kJ/mol at infinite dilution (Parker 1965, NBS 1982). No heat loss, perfect stirring.';
const SOURCE_KOH = `${SOURCE_NAOH} KOH bounded by -57.61 kJ/mol at infinite dilution (Parker 1965); boiling point that of water.`;

/**
 * Highest temperature while the lye goes into the liquid, C.
 *
 * An estimate for sodium hydroxide, an upper bound with any potassium hydroxide. Alkali counts as
 * pure, which errs to the hot side. Beads that lie unstirred are hotter than this figure; a pot that
 * loses heat, or lye added in portions with waits, is cooler: no credit is taken for that. What is no
 * pot (see `isPot`) is judged as the worst.
 */
export function peakTemperature(lye: LyePot): PeakTemperature {
  if (!isPot(lye)) return UNKNOWN;
  const moments = Array.from({ length: STEPS }, (_, step) => momentAfter((step + 1) / STEPS, lye));
  const startC = lye.iceMg > 0 ? 0 : lye.waterTemperatureC;
  const temperatureC = Math.max(startC, ...moments.map((moment) => moment.temperatureC));
  const boilingPointC = lye.kohMg > 0 ? 100 : naohBoilingPointC(lye.naohMg / (lye.naohMg + lye.waterMg + lye.iceMg));
  const vapourKPa = Math.max(...moments.map((moment) => moment.vapourKPa));
  return {
    temperatureC,
    boilingPointC,
    kind: lye.kohMg > 0 ? 'upper bound' : 'estimate',
    iceLeftMg: moments.at(-1)?.iceLeftMg ?? 0,
    steam: steamAt(temperatureC, vapourKPa, boilingPointC),
    source: lye.kohMg > 0 ? SOURCE_KOH : SOURCE_NAOH,
  };
}
