import { checkNumber } from './check-number.ts';
import type { Outcome } from './outcome.ts';
import { checkMass, whenSound } from './when-sound.ts';

/**
 * Three ways in which recipes state the same water. With alkali A as weighed, water W and fat F:
 * lye concentration c = 100 A / (A + W), water-to-alkali ratio r = W / A, share of fat s = 100 W / F.
 * So r = (100 - c) / c for any batch, while s needs the alkali per fat, A / F, which follows from the
 * oils and the superfat: two recipes with the same share of fat can differ much in concentration.
 */
export type WaterMeasure =
  { kind: 'lye concentration'; percent: number } | { kind: 'water per alkali'; ratio: number } | { kind: 'share of fat'; percent: number };

export type WaterFigures = { waterMg: number; lyeConcentrationPercent: number; waterPerAlkali: number; waterShareOfFatPercent: number };

/** Ranges in which a figure is a plan and not a slip; concentration as in a recipe. */
const RULES = {
  'lye concentration': { name: 'The lye concentration', unit: '%', min: 15, max: 100 },
  'water per alkali': { name: 'The water-to-alkali ratio', unit: '', min: 0, max: 10 },
  'share of fat': { name: 'The water as share of the fat', unit: '%', min: 0, max: 200 },
} as const;

/** Judged as the strongest lye: a wrong figure must never make it look milder. */
const NO_WATER: WaterFigures = { waterMg: 0, lyeConcentrationPercent: 100, waterPerAlkali: 0, waterShareOfFatPercent: 0 };

/**
 * The three figures of whole masses in mg; exact, so that `waterOf` gives the same milligrams back. Where alkali or fat is not
 * above 0, or a mass is not a number, no water counts.
 */
export function waterFigures(masses: { alkaliMg: number; fatMg: number; waterMg: number }): WaterFigures {
  const { alkaliMg, fatMg, waterMg } = masses;
  if (![alkaliMg, fatMg, waterMg].every(Number.isFinite) || alkaliMg <= 0 || fatMg <= 0 || waterMg < 0) return NO_WATER;
  return {
    waterMg,
    lyeConcentrationPercent: (100 * alkaliMg) / (alkaliMg + waterMg),
    waterPerAlkali: waterMg / alkaliMg,
    waterShareOfFatPercent: (100 * waterMg) / fatMg,
  };
}

function waterMgFor(measure: WaterMeasure, alkaliMg: number, fatMg: number): number {
  if (measure.kind === 'lye concentration') return (alkaliMg * (100 - measure.percent)) / measure.percent;
  return measure.kind === 'water per alkali' ? alkaliMg * measure.ratio : (fatMg * measure.percent) / 100;
}

/**
 * Water in whole mg for any of the three measures, with the other two figures. Alkali as weighed and
 * fat in mg, both above 0. Pointers: "/percent" or "/ratio", "/alkaliMg", "/fatMg".
 */
export function waterOf(measure: WaterMeasure, masses: { alkaliMg: number; fatMg: number }): Outcome<WaterFigures> {
  const given = measure.kind === 'water per alkali' ? measure.ratio : measure.percent;
  const problems = [
    ...checkNumber(given, measure.kind === 'water per alkali' ? '/ratio' : '/percent', RULES[measure.kind]),
    ...checkMass(masses.alkaliMg, '/alkaliMg', 'The alkali', 1),
    ...checkMass(masses.fatMg, '/fatMg', 'The fat', 1),
  ];
  return whenSound(problems, () => waterFigures({ ...masses, waterMg: Math.round(waterMgFor(measure, masses.alkaliMg, masses.fatMg)) }));
}
