import { fc, test as propTest } from '@fast-check/vitest';
import { expect, test } from 'vitest';
import { coolingTime, newtonMinutes } from './cooling-time.ts';
import { codesOf, detailsOf, valueOf } from './testing.ts';

const POT = { naohMg: 500_000, kohMg: 0, waterMg: 1_000_000 };

/* Soup of 90 C is at 60 C after 10 min in a room of 20 C (calculus textbook exercise "Cooling soup", answers read). */
const SOUP_MIN = 10 / Math.log((90 - 20) / (60 - 20));

test('the soup takes 17.5 min more to 35 C, and 13.26 min from 90 to 35 C in a freezer of -15 C', () => {
  expect(newtonMinutes(SOUP_MIN, 60, 35, 20)).toBeCloseTo(17.53, 2);
  expect(newtonMinutes(SOUP_MIN, 90, 35, -15)).toBeCloseTo(13.26, 2);
});

test('1.5 kg of lye from 70 to 40 C in a room: within half an hour to four hours, as studios see it (common practice, no source)', () => {
  const cooling = valueOf(coolingTime(POT, { fromC: 70, toC: 40, aroundC: 20 }, 'still air'));
  expect(cooling.lowMinutes).toBeGreaterThan(15);
  expect(cooling.highMinutes).toBeLessThan(240);
  expect(cooling.kind).toBe('estimate');
  expect(cooling.words).toMatch(/^Estimate: \d+ to \d+ minutes to 40 °C in still air; read the thermometer, not the clock\.$/u);
});

test('a cold bath is faster than the air at both ends', () => {
  const at = (surroundings: 'still air' | 'water bath') => valueOf(coolingTime(POT, { fromC: 70, toC: 40, aroundC: 15 }, surroundings));
  expect(at('water bath').lowMinutes).toBeLessThan(at('still air').lowMinutes);
  expect(at('water bath').highMinutes).toBeLessThan(at('still air').highMinutes);
});

test('by hand: 1 L of water, 4.18 kJ/K over 8 W/(m2 K) and 0.0461 m2, takes 3.2 h from 60 to 40 C in 25 C', () => {
  const area = 1.25 * Math.PI * (4e-3 / Math.PI) ** (2 / 3);
  const byHand = ((4180 / (8 * area)) * Math.log(35 / 15)) / 60;
  const cooling = valueOf(coolingTime({ naohMg: 0, kohMg: 0, waterMg: 1_000_000 }, { fromC: 60, toC: 40, aroundC: 25 }, 'still air'));
  expect(Math.abs(cooling.highMinutes / byHand - 1)).toBeLessThan(0.02);
  expect(cooling.highMinutes / cooling.lowMinutes).toBeCloseTo((25 * 1.6) / 8, 9);
});

test('never below the room, and nothing to wait for when it is cool already', () => {
  const outcome = coolingTime(POT, { fromC: 70, toC: 22, aroundC: 22 }, 'still air');
  expect(codesOf(outcome)).toEqual(['value-out-of-range /toC']);
  expect(detailsOf(outcome)[0]).toContain('never cools to 22 °C where it is 22 °C');
  expect(valueOf(coolingTime(POT, { fromC: 30, toC: 40, aroundC: 20 }, 'still air'))).toMatchObject({ lowMinutes: 0, highMinutes: 0 });
});

propTest.prop([fc.integer({ min: 100_000, max: 20_000_000 }), fc.integer({ min: 45, max: 110 }), fc.integer({ min: 25, max: 44 })])(
  'more lye, a hotter start and a lower end all take longer',
  (waterMg, fromC, toC) => {
    const high = (mass: number, from: number, to: number) =>
      valueOf(coolingTime({ naohMg: Math.round(mass / 2), kohMg: 0, waterMg: mass }, { fromC: from, toC: to, aroundC: 20 }, 'still air')).highMinutes;
    const base = high(waterMg, fromC, toC);
    expect(base).toBeGreaterThan(0);
    expect(high(waterMg * 2, fromC, toC)).toBeGreaterThan(base);
    expect(high(waterMg, fromC + 5, toC)).toBeGreaterThan(base);
    expect(high(waterMg, fromC, toC - 2)).toBeGreaterThan(base);
  },
);

test('what is out of range is refused with its place and its range', () => {
  const refused = coolingTime({ naohMg: -1, kohMg: NaN, waterMg: 0 }, { fromC: 161, toC: -1, aroundC: 46 }, 'still air');
  expect(codesOf(refused)).toEqual(['/naohMg', '/kohMg', '/waterMg', '/fromC', '/toC', '/aroundC'].map((at) => `value-out-of-range ${at}`));
  expect(detailsOf(refused).join(' ')).toMatch(/from 0 °C to 160 °C.*from 0 °C to 160 °C.*from -20 °C to 45 °C/u);
  expect(codesOf(coolingTime(POT, { fromC: NaN, toC: 20, aroundC: 22 }, 'still air'))).toEqual(['value-out-of-range /fromC']);
});

test('a pot that is colder than its working temperature has nothing to wait for, even in a room that is warmer', () => {
  for (const fromC of [30, 40])
    expect(valueOf(coolingTime(POT, { fromC, toC: 40, aroundC: 42 }, 'still air'))).toMatchObject({ lowMinutes: 0, highMinutes: 0 });
});

test('potassium hydroxide counts with its mass and heat: 30 % KOH cools about as slowly as 30 % NaOH of the same mass', () => {
  const high = (naohMg: number, kohMg: number): number =>
    valueOf(coolingTime({ naohMg, kohMg, waterMg: 700_000 }, { fromC: 70, toC: 40, aroundC: 20 }, 'still air')).highMinutes;
  // Specific heats of 30 % solutions near 20 C, 3.5 and 3.0 kJ/(kg K) (Perry, from memory); the areas differ by a percent.
  const ratio = high(0, 300_000) / high(300_000, 0);
  expect(ratio).toBeGreaterThan(0.75);
  expect(ratio).toBeLessThan(1.1);
});
