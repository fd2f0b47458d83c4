import { expect, test } from 'vitest';
import { normaliseProfile } from './acid-profile.ts';
import { codesOf, detailsOf, valueOf } from './testing.ts';

test('shares that add to 99.8 become fractions of the whole', () => {
  const parts = valueOf(
    normaliseProfile([
      { acid: '18:1', percent: 83.5 },
      { acid: '16:0', percent: 16.3 },
    ]),
  );
  expect(parts.reduce((sum, part) => sum + part.massShare, 0)).toBeCloseTo(1, 12);
  expect(parts[0]?.massShare).toBeCloseTo(83.5 / 99.8, 12);
});

test.each([94.9, 105.1])('a sum of %d is refused with its figure', (percent) => {
  const refused = normaliseProfile([
    { acid: '18:1', percent: 50 },
    { acid: '16:0', percent: percent - 50 },
  ]);
  expect(codesOf(refused)).toEqual(['value-out-of-range /profile']);
  expect(detailsOf(refused)[0]).toContain(`${percent} %`);
});

test.each([95, 105])('a sum of %d is still read', (percent) => {
  expect(
    normaliseProfile([
      { acid: '18:1', percent: 50 },
      { acid: '16:0', percent: percent - 50 },
    ]).ok,
  ).toBe(true);
});

test('unknown acids and shares that are no numbers are refused, each with its pointer', () => {
  const refused = normaliseProfile([
    { acid: '18:9', percent: 50 },
    { acid: '16:0', percent: NaN },
    { acid: '18:0', percent: -1 },
  ]);
  expect(codesOf(refused)).toEqual(['value-out-of-range /profile/0/acid', 'value-out-of-range /profile/1/percent', 'value-out-of-range /profile/2/percent']);
});

test('an empty profile is refused, not divided by nothing', () => {
  expect(codesOf(normaliseProfile([]))).toEqual(['value-out-of-range /profile']);
});
