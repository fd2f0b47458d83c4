import { describe, expect, it } from 'vitest';
import { mouldVolumeMl } from './mould-volume.ts';
import { codesOf, valueOf } from './testing.ts';

/** NIST SP 811 (2008), App. B.9: exact factors: 1 in = 25.4 mm, 1 in3 = 16.387 064 cm3, 1 US gallon = 231 in3 = 3.785 412 L (printed). */
const INCH_MM = 25.4;
const CUBIC_INCH_ML = 16.387064;

const box = (lengthMm: number, widthMm: number, depthMm: number) => mouldVolumeMl({ kind: 'box', lengthMm, widthMm, depthMm });
const cylinder = (diameterMm: number, depthMm: number) => mouldVolumeMl({ kind: 'cylinder', diameterMm, depthMm });
const water = (waterMassMg: number, waterTemperatureC: number) => mouldVolumeMl({ kind: 'water', waterMassMg, waterTemperatureC });

describe('a mould by its inside dimensions', () => {
  it('a loaf of 12 by 3 by 2.5 inch is 90 cubic inches, 1474.835 76 mL (NIST SP 811, exact factor)', () => {
    expect(valueOf(box(12 * INCH_MM, 3 * INCH_MM, 2.5 * INCH_MM)).volumeMl).toBeCloseTo(90 * CUBIC_INCH_ML, 9);
  });

  it('11 by 7 by 3 inch is one US gallon, 3.785 412 L (NIST SP 811, App. B.9)', () => {
    expect(valueOf(box(11 * INCH_MM, 7 * INCH_MM, 3 * INCH_MM)).volumeMl / 1000).toBeCloseTo(3.785412, 6);
  });

  it('a decimetre cubed is a litre (BIPM SI Brochure, Table 8)', () => {
    expect(valueOf(box(100, 100, 100)).volumeMl).toBe(1000);
  });

  it('a cylinder is 3/2 of the ball inside it (Archimedes): a ball of radius 5 cm is 523.5988 mL', () => {
    // On the Sphere and Cylinder I, 34: the cylinder around a ball is 3/2 of it. 4/3 pi 125 = 523.5988.
    expect(valueOf(cylinder(100, 100)).volumeMl / 1.5).toBeCloseTo(523.5988, 4);
  });
});

describe('a mould by the water that fills it', () => {
  // Kell 1975 as printed in the CRC Handbook, "Standard density of water": 0.9998426 at 0, 0.9999750 at 4, 0.9982071 at 20, 0.9970479 at 25, 0.9922187 at 40 C (ITS-68, g/mL; from memory).
  it.each([
    [4, 0.999975],
    [20, 0.9982071],
    [25, 0.9970479],
    [40, 0.9922187],
  ])('1 kg at %d °C over %d g/mL', (temperatureC, density) => {
    expect(valueOf(water(1_000_000, temperatureC)).volumeMl).toBeCloseTo(1000 / density, 1);
  });

  it('warm water of the same mass takes more room', () => {
    expect(valueOf(water(1_000_000, 40)).volumeMl).toBeGreaterThan(valueOf(water(1_000_000, 10)).volumeMl + 5);
  });
});

describe('what is refused', () => {
  it.each([
    ['zero length', box(0, 70, 70), ['value-out-of-range /lengthMm']],
    ['negative width', box(200, -70, 70), ['value-out-of-range /widthMm']],
    ['a depth in metres', box(200, 70, 0.07), ['value-out-of-range /depthMm']],
    ['a missing diameter', cylinder(Number(undefined), 70), ['value-out-of-range /diameterMm']],
    ['depth over 2 m', cylinder(80, 2001), ['value-out-of-range /depthMm']],
    ['no water', water(0, 20), ['value-out-of-range /waterMassMg']],
    ['frozen water', water(1_000_000, -1), ['value-out-of-range /waterTemperatureC']],
    ['scalding water', water(1_000_000, 46), ['value-out-of-range /waterTemperatureC']],
    ['both at once', box(0, 0, 70), ['value-out-of-range /lengthMm', 'value-out-of-range /widthMm']],
    ['a mould of 19 mL', box(19, 20, 50), ['value-out-of-range ']],
    ['a mould of 8 cubic metres', box(2000, 2000, 2000), ['value-out-of-range ']],
    ['another shape', mouldVolumeMl({ kind: 'ball' } as never), ['value-out-of-range /kind']],
  ])('%s', (_what, outcome, codes) => {
    expect(codesOf(outcome)).toEqual(codes);
  });

  it('takes the ends of its ranges', () => {
    expect(valueOf(box(20, 20, 50)).volumeMl).toBe(20);
    expect(valueOf(box(5, 2000, 2000)).volumeMl).toBe(20_000);
    expect(codesOf(water(1_000_000, 1))).toEqual([]);
    expect(codesOf(water(1_000_000, 45))).toEqual([]);
  });
});
