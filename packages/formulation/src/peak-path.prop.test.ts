import { fc, test } from '@fast-check/vitest';
import { expect } from 'vitest';
import type { OpenPot } from './ice-for-limit.ts';
import { iceForLimit, potWithIce } from './ice-for-limit.ts';
import { peakPath } from './peak-path.ts';
import { peakTemperature } from './peak-temperature.ts';
import { valueOf } from './testing.ts';

/** Pots of 100 g to 20 kg water, 15 to 50 % alkali of any mix, some of the water in other liquids. */
const pots: fc.Arbitrary<OpenPot> = fc
  .record({
    waterMg: fc.integer({ min: 100_000, max: 20_000_000 }),
    percent: fc.integer({ min: 15, max: 50 }),
    kohShare: fc.constantFrom(0, 0, 0.1, 1),
    liquidShare: fc.constantFrom(0, 0, 0.3),
    waterTemperatureC: fc.integer({ min: 0, max: 45 }),
    iceTemperatureC: fc.integer({ min: -25, max: 0 }),
  })
  .map(({ waterMg, percent, kohShare, liquidShare, ...temperatures }) => {
    const alkaliMg = (waterMg * percent) / (100 - percent);
    const liquidWaterMg = Math.round(waterMg * liquidShare);
    return {
      naohMg: Math.round(alkaliMg * (1 - kohShare)),
      kohMg: Math.round(alkaliMg * kohShare),
      liquidWaterMg,
      plainWaterMg: waterMg - liquidWaterMg,
      ...temperatures,
    };
  });
const shares = fc.integer({ min: 0, max: 100 });

test.prop([pots, shares], { numRuns: 1000 })('the path never reaches its boiling point, nor 100 C, without a warning', (pot, ice) => {
  const path = peakPath(potWithIce(pot, ice));
  const codes = path.warnings.map((each) => each.code);
  if (path.points.some((point) => point.temperatureC >= point.boilingPointC)) expect(codes).toContain('boils');
  if (path.peak.temperatureC >= 100) expect(codes.some((code) => code === 'boils' || code === 'water-boils')).toBe(true);
});

test.prop([pots, shares])(
  'every point is a number, the vapour pressure is never negative, and no point is hotter than the peak by more than 0.5 C',
  (pot, ice) => {
    const path = peakPath(potWithIce(pot, ice));
    expect(JSON.stringify(path)).not.toContain('null');
    for (const point of path.points) {
      expect(point.vapourKPa).toBeGreaterThan(0);
      expect(point.temperatureC).toBeLessThanOrEqual(path.peak.temperatureC + 0.5);
    }
  },
);

test.prop([pots, shares, shares])('the peak never rises with more ice', (pot, one, other) => {
  const [less, more] = [Math.min(one, other), Math.max(one, other)];
  expect(peakTemperature(potWithIce(pot, more)).temperatureC).toBeLessThanOrEqual(peakTemperature(potWithIce(pot, less)).temperatureC + 1e-6);
});

test.prop([pots, fc.integer({ min: 30, max: 110 })], { numRuns: 300 })(
  'the least ice keeps the limit and a tenth of a percent less does not; if none does, all ice does not',
  (pot, limitC) => {
    const found = valueOf(iceForLimit(pot, limitC));
    if (!found.reached) {
      expect(peakTemperature(potWithIce(pot, 100)).temperatureC).toBeGreaterThan(limitC);
      return;
    }
    expect(peakTemperature(potWithIce(pot, found.iceSharePercent)).temperatureC).toBeLessThanOrEqual(limitC);
    if (found.iceSharePercent > 0) expect(peakTemperature(potWithIce(pot, found.iceSharePercent - 0.1)).temperatureC).toBeGreaterThan(limitC);
  },
);
