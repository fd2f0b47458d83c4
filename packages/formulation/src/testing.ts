import type { Outcome } from './outcome.ts';
import type { Purity, RecipeInput } from './recipe.ts';

/** For tests only: a plain recipe that every rule accepts, to be changed in one place by a test. */
export const PLAIN_RECIPE: RecipeInput = {
  fats: [
    { fatKey: 'olive', sharePercent: 50 },
    { fatKey: 'coconut', sharePercent: 30 },
    { fatKey: 'rapeseed_low_erucic', sharePercent: 20 },
  ],
  alkali: { kohSharePercent: 0 },
  superfatPercent: 8,
  superfatFloorPercent: 0.5,
  lyeConcentrationPercent: 33,
  iceSharePercent: 50,
  waterTemperatureC: 20,
  iceTemperatureC: -10,
  liquids: [],
  additives: [],
};

export const CERTIFIED: Purity = {
  naohPercent: { low: 98.5, nominal: 99, high: 99.5 },
  kohPercent: { low: 89.5, nominal: 90, high: 90.5 },
};

export const PURE: Purity = {
  naohPercent: { low: 100, nominal: 100, high: 100 },
  kohPercent: { low: 100, nominal: 100, high: 100 },
};

/** The value of a good outcome; a refusal fails the test with its sentences. */
export function valueOf<T>(outcome: Outcome<T>): T {
  if (outcome.ok) return outcome.value;
  throw new Error(outcome.problems.map((each) => `${each.code} ${each.pointer}: ${each.detail}`).join('\n'));
}

/** Problems of a refusal as "code pointer"; none for a good outcome. */
export function codesOf(outcome: Outcome<unknown>): string[] {
  return outcome.ok ? [] : outcome.problems.map((each) => `${each.code} ${each.pointer}`);
}

export function detailsOf(outcome: Outcome<unknown>): string[] {
  return outcome.ok ? [] : outcome.problems.map((each) => each.detail);
}
