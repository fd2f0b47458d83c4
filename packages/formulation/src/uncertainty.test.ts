import { expect, test } from 'vitest';
import { exactly, superfatBand } from './superfat-band.ts';
import { CERTIFIED, PURE } from './testing.ts';
import type { NamedBandInput } from './uncertainty.ts';
import { superfatUncertainty } from './uncertainty.ts';

const OLIVE = { name: 'Olive oil', massMg: { low: 999_000, nominal: 1_000_000, high: 1_001_000 }, saponificationValue: { low: 184, nominal: 190, high: 196 } };
const INPUT: NamedBandInput = { fats: [OLIVE], naohMg: { low: 126_900, nominal: 128_000, high: 128_600 }, kohMg: exactly(0), purity: CERTIFIED };

test('by hand: only the saponification value in doubt, 6 / root 3 in 190 of the 95 % met', () => {
  const alone = superfatUncertainty({ fats: [{ ...OLIVE, massMg: exactly(1_000_000) }], naohMg: exactly(0), kohMg: exactly(180_500), purity: PURE });
  expect(alone.superfatPercent).toBeCloseTo(5, 9);
  expect(alone.standardUncertaintyPercent).toBeCloseTo((95 * 6) / Math.sqrt(3) / 190, 5);
  expect(alone.words).toBe('The saponification value of Olive oil makes 100 % of the variance; nothing else is in doubt.');
});

test('widest first: the range of the oil matters many times more than the scale', () => {
  const { contributions, words } = superfatUncertainty(INPUT);
  expect(contributions.map((each) => each.what)).toEqual([
    'saponification value of Olive oil',
    'weighing of sodium hydroxide',
    'purity of the sodium hydroxide',
    'weighing of Olive oil',
  ]);
  expect(contributions[0]?.varianceSharePercent).toBeGreaterThan(80);
  expect(words).toMatch(
    /^The saponification value of Olive oil makes \d\d % of the variance, \d(\.\d)? times the doubt of the next, the weighing of sodium hydroxide\.$/u,
  );
});

test('a certificate of the same width counts as k = 2: half of it, not a rectangle', () => {
  const certified = superfatUncertainty({
    fats: [{ ...OLIVE, certified: true, massMg: exactly(1_000_000) }],
    naohMg: exactly(0),
    kohMg: exactly(180_500),
    purity: PURE,
  });
  expect(certified.standardUncertaintyPercent).toBeCloseTo((95 * 3) / 190, 5);
});

test('the likely range lies within the worst case and around the nominal', () => {
  const found = superfatUncertainty(INPUT);
  const band = superfatBand(INPUT);
  expect(found.likelyPercent.low).toBeGreaterThanOrEqual(band.low);
  expect(found.likelyPercent.high).toBeLessThanOrEqual(band.high);
  expect(found.likelyPercent.low).toBeLessThan(found.superfatPercent);
});

test('everything exact: no doubt, and said so', () => {
  const exact = superfatUncertainty({
    fats: [{ name: 'Olive oil', massMg: exactly(1_000_000), saponificationValue: exactly(190) }],
    naohMg: exactly(0),
    kohMg: exactly(180_500),
    purity: PURE,
  });
  expect(exact).toMatchObject({ standardUncertaintyPercent: 0, contributions: [], words: 'Nothing is in doubt: every value was given as exact.' });
});
