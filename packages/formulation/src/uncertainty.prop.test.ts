import { fc, test } from '@fast-check/vitest';
import { expect } from 'vitest';
import type { Interval } from './outcome.ts';
import { exactly, superfatBand } from './superfat-band.ts';
import { CERTIFIED } from './testing.ts';
import type { NamedBandInput } from './uncertainty.ts';
import { superfatUncertainty } from './uncertainty.ts';

const around = (nominal: number, share: number): Interval => ({ low: nominal * (1 - share), nominal, high: nominal * (1 + share) });

/** Soaps of one to four oils, within the doubts that occur, sodium and potassium mixed. */
const soaps: fc.Arbitrary<NamedBandInput> = fc
  .record({
    fats: fc.array(
      fc.record({
        massMg: fc.integer({ min: 50_000, max: 1_000_000 }),
        value: fc.integer({ min: 150, max: 260 }),
        range: fc.double({ min: 0.005, max: 0.05, noNaN: true }),
      }),
      { minLength: 1, maxLength: 4 },
    ),
    kohShare: fc.constantFrom(0, 0.2, 1),
    scale: fc.double({ min: 0.0005, max: 0.01, noNaN: true }),
  })
  .map(({ fats, kohShare, scale }) => {
    const needMg = fats.reduce((sum, fat) => sum + (fat.massMg * fat.value) / 1000, 0) * 0.94;
    return {
      fats: fats.map((fat, index) => ({ name: `Oil ${index + 1}`, massMg: around(fat.massMg, scale), saponificationValue: around(fat.value, fat.range) })),
      naohMg: kohShare < 1 ? around((needMg * (1 - kohShare) * 0.7129) / 0.99, scale) : exactly(0),
      kohMg: kohShare > 0 ? around((needMg * kohShare) / 0.9, scale) : exactly(0),
      purity: CERTIFIED,
    };
  });

test.prop([soaps], { numRuns: 1000 })('the likely range never leaves the worst case, and the shares of the variance make 100 %', (soap) => {
  const found = superfatUncertainty(soap);
  const band = superfatBand(soap);
  expect(found.likelyPercent.low).toBeGreaterThanOrEqual(band.low);
  expect(found.likelyPercent.high).toBeLessThanOrEqual(band.high);
  expect(found.contributions.reduce((sum, each) => sum + each.varianceSharePercent, 0)).toBeCloseTo(100, 6);
  found.contributions
    .slice(1)
    .forEach((each, index) => expect(each.standardUncertainty).toBeLessThanOrEqual(found.contributions[index]?.standardUncertainty ?? 0));
});

/** Park and Miller's generator (Commun. ACM 31, 1988): the same draws every time, no clock. */
function draws(seed: number): () => number {
  let state = seed;
  return () => (state = (state * 16_807) % 2_147_483_647) / 2_147_483_647;
}

test.prop([soaps, fc.integer({ min: 1, max: 2_147_483_646 })], { numRuns: 10 })(
  '10 000 draws from rectangles (JCGM 101) scatter as much as the law of propagation says, within 4 %',
  (soap, seed) => {
    const next = draws(seed);
    const from = (range: Interval): number => range.low + (range.high - range.low) * next();
    const results = Array.from({ length: 10_000 }, () => {
      const met = (from(soap.naohMg) * from(soap.purity.naohPercent)) / 100 / 0.712887 + (from(soap.kohMg) * from(soap.purity.kohPercent)) / 100;
      return 100 * (1 - met / soap.fats.reduce((sum, fat) => sum + (from(fat.massMg) * from(fat.saponificationValue)) / 1000, 0));
    });
    const mean = results.reduce((sum, each) => sum + each, 0) / results.length;
    const deviation = Math.sqrt(results.reduce((sum, each) => sum + (each - mean) ** 2, 0) / (results.length - 1));
    expect(Math.abs(deviation / superfatUncertainty(soap).standardUncertaintyPercent - 1)).toBeLessThan(0.04);
  },
);
