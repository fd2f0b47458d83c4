import { fc, test as propTest } from '@fast-check/vitest';
import { expect, test } from 'vitest';
import { discountOfLateFat, lateFatFor } from './late-fat.ts';
import { codesOf, valueOf } from './testing.ts';

test('by hand: 50 g of 180 mg/g after 1 kg of 190 mg/g with no discount is 9 in 199, 4.52 %', () => {
  const figures = valueOf(discountOfLateFat(190_000, 0, [{ massMg: 50_000, saponificationValue: 180 }]));
  expect(figures.equivalentDiscountPercent).toBeCloseTo(900 / 199, 9);
  expect(figures.words).toContain('the base can be caustic until then');
});

test('with 3 % already off, the words say how little that is', () => {
  const figures = valueOf(discountOfLateFat(190_000, 3, [{ massMg: 50_000, saponificationValue: 180 }]));
  expect(figures.equivalentDiscountPercent).toBeCloseTo(100 * (1 - (0.97 * 190) / 199), 9);
  expect(figures.words).toContain('only 3 % before it is in');
});

test('no late fat leaves the discount as it is', () => {
  expect(valueOf(discountOfLateFat(190_000, 5, [])).equivalentDiscountPercent).toBeCloseTo(5, 9);
});

test('an aim under the base is refused; so are figures that are none', () => {
  expect(codesOf(lateFatFor(190_000, 5, 3, 180))).toEqual(['value-out-of-range /aimPercent']);
  expect(codesOf(discountOfLateFat(NaN, -1, [{ massMg: 1, saponificationValue: 0 }]))).toEqual([
    'value-out-of-range /baseNeedMg',
    'value-out-of-range /baseDiscountPercent',
    'value-out-of-range /lateFats/0/saponificationValue',
  ]);
});

propTest.prop([
  fc.integer({ min: 10_000, max: 10_000_000 }),
  fc.integer({ min: 0, max: 10 }),
  fc.integer({ min: 0, max: 15 }),
  fc.integer({ min: 100, max: 260 }),
])('the fat for an aim gives the aim, never less', (needMg, base, more, saponificationValue) => {
  const { massMg } = valueOf(lateFatFor(needMg, base, base + more, saponificationValue));
  const { equivalentDiscountPercent } = valueOf(discountOfLateFat(needMg, base, [{ massMg, saponificationValue }]));
  expect(equivalentDiscountPercent).toBeGreaterThan(base + more - 1e-9);
  expect(equivalentDiscountPercent).toBeLessThan(base + more + (100 * saponificationValue) / 1000 / needMg + 1e-9);
});
