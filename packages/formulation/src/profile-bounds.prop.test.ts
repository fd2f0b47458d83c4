import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { AcidRange } from './fatty-acids.ts';
import { FATTY_ACIDS } from './fatty-acids.ts';
import { profileBounds } from './profile-bounds.ts';

/** A composition that adds to 100 and ranges around it, so that the ranges allow it. */
const allowed = fc
  .tuple(fc.uniqueArray(fc.constantFrom(...FATTY_ACIDS), { minLength: 2, maxLength: 9 }), fc.infiniteStream(fc.double({ min: 0.01, max: 1, noNaN: true })))
  .map(([acids, stream]) => {
    const parts = acids.map(() => stream.next().value ?? 0.5);
    const sum = parts.reduce((total, part) => total + part, 0);
    const composition = parts.map((part) => (100 * part) / sum);
    const ranges = acids.map((acid, index): AcidRange => {
      const percent = composition[index] ?? 0;
      return { acid, lowPercent: percent * (stream.next().value ?? 1), highPercent: percent * (1 + (stream.next().value ?? 0)) };
    });
    return { composition, ranges };
  });

test('the mean over any allowed composition lies between the bounds', () => {
  fc.assert(
    fc.property(allowed, ({ composition, ranges }) => {
      const bounds = profileBounds(ranges, (acid) => 1000 / acid.molarMassGPerMol);
      const mean = ranges.reduce((sum, { acid }, index) => sum + ((composition[index] ?? 0) * 1000) / acid.molarMassGPerMol, 0) / 100;
      expect(bounds?.low).toBeLessThanOrEqual(mean + 1e-9);
      expect(bounds?.high).toBeGreaterThanOrEqual(mean - 1e-9);
    }),
    { numRuns: 2000 },
  );
});

test('the bounds are never beaten: brute force over the corners of three acids', () => {
  const [a, b, c] = FATTY_ACIDS.slice(4, 7);
  if (!a || !b || !c) throw new Error('three acids are needed');
  fc.assert(
    fc.property(
      fc.integer({ min: 0, max: 40 }),
      fc.integer({ min: 45, max: 90 }),
      fc.integer({ min: 0, max: 40 }),
      fc.integer({ min: 45, max: 90 }),
      (la, ha, lb, hb) => {
        const ranges = [
          { acid: a, lowPercent: la, highPercent: ha },
          { acid: b, lowPercent: lb, highPercent: hb },
          { acid: c, lowPercent: 5, highPercent: 80 },
        ];
        const weigh = (acid: { carbons: number }) => acid.carbons;
        const means: number[] = [];
        for (let x = la; x <= ha; x += 1) {
          for (let y = lb; y <= hb; y += 1)
            if (100 - x - y >= 5 && 100 - x - y <= 80) means.push((x * weigh(a) + y * weigh(b) + (100 - x - y) * weigh(c)) / 100);
        }
        const bounds = profileBounds(ranges, weigh);
        expect(bounds?.low).toBeCloseTo(Math.min(...means), 9);
        expect(bounds?.high).toBeCloseTo(Math.max(...means), 9);
      },
    ),
    { numRuns: 100 },
  );
});

test('ranges that no composition fits give nothing', () => {
  const [acid] = FATTY_ACIDS;
  if (!acid) throw new Error('an acid is needed');
  expect(profileBounds([{ acid, lowPercent: 0, highPercent: 99 }], () => 1)).toBeUndefined();
  expect(profileBounds([{ acid, lowPercent: 101, highPercent: 110 }], () => 1)).toBeUndefined();
  expect(profileBounds([], () => 1)).toBeUndefined();
  expect(profileBounds([{ acid, lowPercent: 100, highPercent: 100 }], () => 2)).toEqual({ low: 2, high: 2 });
});
