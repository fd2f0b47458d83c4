import { expect, test } from 'vitest';
import { bandCauses, exactly, superfatBand } from './superfat-band.ts';
import { PURE } from './testing.ts';

const OLIVE = { massMg: exactly(1_000_000), saponificationValue: { low: 184, nominal: 190, high: 196 } };
const INPUT = { fats: [OLIVE], naohMg: exactly(0), kohMg: exactly(180_500), purity: PURE };

test('interval arithmetic by hand: 180.5 g KOH on 1 kg of olive oil', () => {
  const band = superfatBand(INPUT);
  expect(band.nominal).toBeCloseTo(5, 9);
  expect(band.low).toBeCloseTo(100 * (1 - 180.5 / 184), 9);
  expect(band.high).toBeCloseTo(100 * (1 - 180.5 / 196), 9);
});

test('too much alkali shows as a negative low end, not as zero', () => {
  expect(superfatBand({ ...INPUT, kohMg: exactly(190_000) }).low).toBeLessThan(-3);
});

test('causes are listed widest first, and an exact quantity costs nothing', () => {
  const causes = bandCauses({ ...INPUT, kohMg: { low: 180_000, nominal: 180_500, high: 181_000 } });
  expect(causes.map((cause) => cause.what)).toEqual(['oil variability', 'weighing', 'alkali purity']);
  expect(causes[2]?.lowersByPercent).toBe(0);
  expect(causes[1]?.lowersByPercent).toBeCloseTo((100 * 0.5) / 190, 6);
});
