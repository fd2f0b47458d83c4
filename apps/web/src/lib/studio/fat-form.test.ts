import { expect, test } from 'vitest';
import { otherFigures, rangeOf } from './fat-form.ts';

const NOTHING = { iodineValue: null, densityGPerMl: null, unsaponifiablePercent: null };

test('a range with equal ends is one figure', () => {
  expect(rangeOf({ low: 182, high: 198.5 })).toBe('182 to 198.5');
  expect(rangeOf({ low: 190, high: 190 })).toBe('190');
});

test('what nobody gave is not told as zero, and a given zero is told', () => {
  expect(otherFigures(NOTHING)).toBe('none given');
  expect(otherFigures({ ...NOTHING, unsaponifiablePercent: 0 })).toBe('unsaponifiable 0 %');
  expect(otherFigures({ iodineValue: { low: 60, high: 75 }, densityGPerMl: 0.91, unsaponifiablePercent: 1.5 })).toBe(
    'iodine value 60 to 75 g/100 g, density 0.91 g/mL, unsaponifiable 1.5 %',
  );
});
