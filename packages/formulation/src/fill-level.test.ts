import { expect, test } from 'vitest';
import { fillLevel } from './fill-level.ts';
import { codesOf, valueOf } from './testing.ts';

const POT = { naohMg: 500_000, kohMg: 0, waterMg: 1_000_000, waterTemperatureC: 20, iceMg: 0, iceTemperatureC: 0 };

test('1.5 kg of a one-in-three lye at its peak: its mass over 1.30 to 1.33 g/mL (handbook density of 33 % near 100 C, by ICT, from memory)', () => {
  const { volumeMl } = valueOf(fillLevel(POT, 3000));
  expect(volumeMl).toBeGreaterThan(1500 / 1.33);
  expect(volumeMl).toBeLessThan(1500 / 1.29);
});

test('at most two thirds full, else the container that would do is named', () => {
  expect(valueOf(fillLevel(POT, 2000)).verdict).toBe('fits');
  expect(valueOf(fillLevel(POT, 1500))).toMatchObject({ verdict: 'too full', words: expect.stringContaining('take one of at least 17') });
  expect(valueOf(fillLevel(POT, 1000)).verdict).toBe('does not fit');
});

test('ice takes its room before it melts: 1 kg is 1091 mL at 0.9167 g/mL (CRC Handbook, from memory)', () => {
  const { volumeMl } = valueOf(fillLevel({ ...POT, naohMg: 10_000, waterMg: 0, iceMg: 1_000_000 }, 3000));
  expect(Math.abs(volumeMl - 1000 / 0.9167)).toBeLessThan(1);
});

test('no container and no water are refused', () => {
  expect(codesOf(fillLevel({ ...POT, waterMg: 0 }, 0))).toEqual(['value-out-of-range /waterMg', 'value-out-of-range /containerMl']);
});

test('water and ice take their room together, both alkalis too', () => {
  // Before any lye 500 mL of water and 500/0.917 = 545 mL of ice.
  expect(valueOf(fillLevel({ ...POT, naohMg: 10_000, waterMg: 500_000, iceMg: 500_000 }, 3000)).volumeMl).toBeCloseTo(500 + 500 / 0.917, 0);
  const both = valueOf(fillLevel({ ...POT, naohMg: 250_000, kohMg: 250_000 }, 3000)).volumeMl;
  expect(both).toBeGreaterThan(1500 / 1.35);
  expect(both).toBeLessThan(1500 / 1.25);
});

test('exactly full still fits the container, exactly two thirds is not too full; what fits names no other', () => {
  const { volumeMl } = valueOf(fillLevel(POT, 3000));
  expect(valueOf(fillLevel(POT, volumeMl)).verdict).toBe('too full');
  expect(valueOf(fillLevel(POT, 3000)).words).toMatch(/^\d+ mL fill \d+ % of the container\.$/u);
  // 500 g of ice water, by hand 545.26 mL: two thirds of 817.88 mL.
  const ice = { ...POT, naohMg: 0, waterMg: 0, iceMg: 500_000 };
  expect(valueOf(fillLevel(ice, (1.5 * 500) / 0.917 + 0.001)).verdict).toBe('fits');
  expect(valueOf(fillLevel(ice, (1.5 * 500) / 0.917 - 0.001)).verdict).toBe('too full');
});
