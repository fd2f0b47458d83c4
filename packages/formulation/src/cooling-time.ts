import { checkNumber, figure } from './check-number.ts';
import type { Outcome } from './outcome.ts';
import { problem } from './outcome.ts';
import type { Pot } from './solution-heat.ts';
import { potEnthalpy } from './solution-heat.ts';
import { lyeDensityGPerMl } from './solution.ts';
import { checkMass, checkTemperature, whenSound } from './when-sound.ts';

/** Minutes from one temperature to another after Newton: t = tau ln((T - Ta) / (Tw - Ta)). */
export function newtonMinutes(timeConstantMin: number, fromC: number, toC: number, aroundC: number): number {
  return timeConstantMin * Math.log((fromC - aroundC) / (toC - aroundC));
}

export type Cooling = { lowMinutes: number; highMinutes: number; kind: 'estimate'; words: string };

/**
 * Heat leaves per area and degree, W/(m2 K). Still air: natural convection, radiation and some
 * evaporation, 8 to 25 (textbooks give 2 to 25 for natural convection in gases; from memory). Cold
 * water bath through a plastic or steel wall: 40 to 200 (judgement from wall and film resistances).
 */
const COEFFICIENTS = { 'still air': { low: 8, high: 25 }, 'water bath': { low: 40, high: 200 } } as const;
export type Surroundings = keyof typeof COEFFICIENTS;

/** A pot as wide as it is deep has 1.25 pi D^2 without its bottom; flat pots have up to 1.6 times that. */
const FLAT = 1.6;

function areaM2(volumeMl: number): number {
  const diameterM = Math.cbrt((4 * volumeMl * 1e-6) / Math.PI);
  return 1.25 * Math.PI * diameterM * diameterM;
}

/**
 * Time in which a stirred pot cools to its working temperature: an estimate, shown as a range, never a
 * reason to leave the pot or to skip the thermometer.
 *
 * Newton's law with the heat content of the solution (enthalpy difference over the range, so no
 * specific heat is assumed), a compact to flat shape, and the coefficients above. The vessel's own heat
 * is left out (it adds a few percent). Refuses a working temperature at or below the surroundings: the
 * pot never gets there. Masses mg, temperatures C.
 */
export function coolingTime(
  pot: { naohMg: number; kohMg: number; waterMg: number },
  temperatures: { fromC: number; toC: number; aroundC: number },
  surroundings: Surroundings,
): Outcome<Cooling> {
  const { fromC, toC, aroundC } = temperatures;
  const problems = [
    ...checkMass(pot.naohMg, '/naohMg', 'The sodium hydroxide'),
    ...checkMass(pot.kohMg, '/kohMg', 'The potassium hydroxide'),
    ...checkMass(pot.waterMg, '/waterMg', 'The water', 1000),
    ...checkTemperature(fromC, '/fromC', 'The starting temperature', { min: 0, max: 160 }),
    ...checkTemperature(toC, '/toC', 'The working temperature', { min: 0, max: 160 }),
    ...checkNumber(aroundC, '/aroundC', { name: 'The temperature around the pot', unit: '°C', min: -20, max: 45 }),
  ];
  if (problems.length === 0 && toC <= aroundC && toC < fromC) {
    const detail = `The pot never cools to ${figure(toC, 1)} °C where it is ${figure(aroundC, 1)} °C; choose a working temperature a few degrees above that.`;
    problems.push(problem('value-out-of-range', '/toC', detail, { toC, aroundC }));
  }
  return whenSound(problems, () => {
    if (toC >= fromC) return { lowMinutes: 0, highMinutes: 0, kind: 'estimate', words: 'It is already at or below the working temperature.' };
    const grams: Pot = { naoh: pot.naohMg / 1000, koh: pot.kohMg / 1000, water: pot.waterMg / 1000 };
    const joulesPerK = (potEnthalpy(grams, fromC) - potEnthalpy(grams, toC)) / (fromC - toC);
    const area = areaM2((grams.naoh + grams.koh + grams.water) / lyeDensityGPerMl(grams.naoh, grams.koh, grams.water, toC));
    const minutes = (coefficient: number): number => newtonMinutes(joulesPerK / (coefficient * area) / 60, fromC, toC, aroundC);
    const { low, high } = COEFFICIENTS[surroundings];
    const [lowMinutes, highMinutes] = [minutes(high * FLAT), minutes(low)];
    const words = `Estimate: ${figure(lowMinutes, 0)} to ${figure(highMinutes, 0)} minutes to ${figure(toC, 0)} °C in ${surroundings}; read the thermometer, not the clock.`;
    return { lowMinutes, highMinutes, kind: 'estimate', words };
  });
}
