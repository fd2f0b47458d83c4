import { fc, test as propTest } from '@fast-check/vitest';
import { expect, test } from 'vitest';
import { carbonation, hydroxideContent } from './alkali-content.ts';
import { exactly } from './superfat-band.ts';
import { codesOf, valueOf } from './testing.ts';

test('total alkali 97.5 % with 3.0 % carbonate, the most the USP monograph allows (from memory), is 95.24 % hydroxide', () => {
  const content = valueOf(hydroxideContent('NaOH', { assayIs: 'total alkali', assayPercent: exactly(97.5), carbonatePercent: exactly(3) }));
  expect(content.nominal).toBeCloseTo(97.5 - 3 * ((2 * 39.997) / 105.988), 3);
});

test('53 g sodium carbonate neutralise as much acid as 40 g NaOH, 69.1 g potassium carbonate as 56.1 g KOH (equivalent masses of any textbook)', () => {
  const off = (kind: 'NaOH' | 'KOH') =>
    100 - valueOf(hydroxideContent(kind, { assayIs: 'total alkali', assayPercent: exactly(100), carbonatePercent: { low: 0, nominal: 10, high: 10 } })).nominal;
  expect(Math.abs(off('NaOH') / 10 - 40 / 53)).toBeLessThan(0.001);
  expect(Math.abs(off('KOH') / 10 - 56.1 / 69.1)).toBeLessThan(0.001);
});

test('an assay of hydroxide itself loses nothing to carbonate, but its high end leaves room for carbonate and water', () => {
  const content = valueOf(
    hydroxideContent('KOH', {
      assayIs: 'hydroxide',
      assayPercent: { low: 85, nominal: 88, high: 95 },
      carbonatePercent: { low: 1, nominal: 1.5, high: 2 },
      waterPercent: { low: 9, nominal: 10, high: 12 },
    }),
  );
  expect(content).toEqual({ low: 85, nominal: 88, high: 90 });
});

test('without carbonate or water the certificate is taken as it is', () => {
  expect(valueOf(hydroxideContent('NaOH', { assayIs: 'total alkali', assayPercent: { low: 98, nominal: 99, high: 100 } }))).toEqual({
    low: 98,
    nominal: 99,
    high: 100,
  });
});

test('more than 100 % in all, purity over 100 %, and reversed ranges are refused', () => {
  expect(codesOf(hydroxideContent('NaOH', { assayIs: 'hydroxide', assayPercent: exactly(99), waterPercent: exactly(2) }))).toEqual([
    'value-out-of-range /assayPercent',
  ]);
  expect(codesOf(hydroxideContent('NaOH', { assayIs: 'hydroxide', assayPercent: exactly(101) }))).toHaveLength(3);
  expect(codesOf(hydroxideContent('NaOH', { assayIs: 'hydroxide', assayPercent: exactly(98), carbonatePercent: { low: 2, nominal: 1, high: 2 } }))).toEqual([
    'value-out-of-range /carbonatePercent',
  ]);
});

test('2 NaOH + CO2: 79.99 g and 44.01 g give 105.99 g carbonate and 18.02 g water (IUPAC atomic weights)', () => {
  const all = valueOf(carbonation('NaOH', 79_993.54, 100));
  expect(all).toMatchObject({
    co2TakenMg: expect.closeTo(44_009, 0),
    carbonateMg: expect.closeTo(105_987.5, 0),
    waterMg: expect.closeTo(18_015, 0),
    hydroxideLeftMg: 0,
  });
});

test('1 kg KOH takes 0.392 kg CO2 and gives 1.232 kg carbonate (44.009 and 138.205 over 2 x 56.106)', () => {
  const all = valueOf(carbonation('KOH', 1_000_000, 100));
  expect(Math.abs(all.co2TakenMg - 392_200)).toBeLessThan(100);
  expect(Math.abs(all.carbonateMg - 1_231_650)).toBeLessThan(100);
});

propTest.prop([fc.constantFrom('NaOH' as const, 'KOH' as const), fc.integer({ min: 0, max: 10_000_000 }), fc.double({ min: 0, max: 100, noNaN: true })])(
  'mass is kept: hydroxide and carbon dioxide in, carbonate, water and the rest out',
  (kind, massMg, turned) => {
    const air = valueOf(carbonation(kind, massMg, turned));
    expect(air.carbonateMg + air.waterMg + air.hydroxideLeftMg).toBeCloseTo(massMg + air.co2TakenMg, 3);
  },
);

const ends = (min: number, max: number) =>
  fc
    .array(fc.double({ min, max, noNaN: true }), { minLength: 3, maxLength: 3 })
    .map((list) => list.sort((a, b) => a - b))
    .map(([low = min, nominal = min, high = min]) => ({ low, nominal, high }));

propTest.prop([ends(80, 100), ends(0, 5), ends(0, 12), fc.constantFrom('hydroxide' as const, 'total alkali' as const)])(
  'hydroxide runs from low to high and is never more than the assay',
  (assayPercent, carbonatePercent, waterPercent, assayIs) => {
    const outcome = hydroxideContent('KOH', { assayIs, assayPercent, carbonatePercent, waterPercent });
    if (!outcome.ok) {
      expect(assayPercent.low + waterPercent.low + carbonatePercent.low).toBeGreaterThan(100);
      return;
    }
    expect(outcome.value.low).toBeLessThanOrEqual(outcome.value.nominal);
    expect(outcome.value.nominal).toBeLessThanOrEqual(outcome.value.high);
    expect(outcome.value.high).toBeLessThanOrEqual(assayPercent.high);
  },
);

test('shares that add to exactly 100 % pass; over it the sentence has the sum', () => {
  const of = (assay: number, carbonate: number, water: number) =>
    hydroxideContent('NaOH', { assayIs: 'hydroxide', assayPercent: exactly(assay), carbonatePercent: exactly(carbonate), waterPercent: exactly(water) });
  expect(valueOf(of(97, 1, 2)).high).toBe(97);
  // Carbonate counts in the sum, not against it: 98 + 3 is 101.
  const over = of(98, 3, 0);
  expect(over.ok ? [] : over.problems).toMatchObject([{ code: 'value-out-of-range', pointer: '/assayPercent', fields: { sumPercent: 101 } }]);
});

test('by hand: total alkali of 98 % with 1 % carbonate holds 98 - 2 x 39.997 / 105.988 = 97.245 % at every end', () => {
  const { low, nominal, high } = valueOf(hydroxideContent('NaOH', { assayIs: 'total alkali', assayPercent: exactly(98), carbonatePercent: exactly(1) }));
  for (const end of [low, nominal, high]) expect(end).toBeCloseTo(97.245, 3);
});

test('shares of carbonate and water are checked at each end: from 0 to 50 % and rising', () => {
  const carbonate = (low: number, nominal: number, high: number): string[] =>
    codesOf(hydroxideContent('KOH', { assayIs: 'hydroxide', assayPercent: exactly(60), carbonatePercent: { low, nominal, high } }));
  expect(carbonate(-1, 0, 1)).toEqual(['value-out-of-range /carbonatePercent']);
  expect(carbonate(0, 1, 51)).toEqual(['value-out-of-range /carbonatePercent']);
  expect(carbonate(NaN, NaN, NaN)).toHaveLength(3);
  expect(carbonate(0, 2, 1)).toEqual(['value-out-of-range /carbonatePercent']);
  expect(carbonate(0, 1, 50)).toEqual([]);
});

test('carbonation of what is no mass or no share is refused', () => {
  expect(codesOf(carbonation('NaOH', -1, 101))).toEqual(['value-out-of-range /massMg', 'value-out-of-range /turnedPercent']);
});
