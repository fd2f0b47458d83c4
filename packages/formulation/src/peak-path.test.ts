import { expect, test } from 'vitest';
import { peakPath } from './peak-path.ts';
import { peakTemperature } from './peak-temperature.ts';

const pot = (percent: number, iceShare: number, waterTemperatureC = 20, koh = 0) => {
  const alkaliMg = Math.round((1_000_000 * percent) / (100 - percent));
  return {
    naohMg: alkaliMg - koh * alkaliMg,
    kohMg: koh * alkaliMg,
    waterMg: 1_000_000 * (1 - iceShare),
    waterTemperatureC,
    iceMg: 1_000_000 * iceShare,
    iceTemperatureC: -10,
  };
};
const codes = (path: ReturnType<typeof peakPath>) => path.warnings.map((each) => each.code);

test('21 points from none to all of the lye; without ice it starts at the water temperature', () => {
  const path = peakPath(pot(33.3, 0));
  expect(path.points.map((point) => point.sharePercent)).toEqual(Array.from({ length: 21 }, (_, index) => (100 * index) / 20));
  expect(Math.abs((path.points[0]?.temperatureC ?? 0) - 20)).toBeLessThan(1);
  expect(path.points.at(-1)?.temperatureC).toBeCloseTo(path.peak.temperatureC, 6);
});

test('the start has the vapour pressure of water, 2.34 kPa at 20 C (steam tables), within 6 %', () => {
  expect(Math.abs((peakPath(pot(33.3, 0)).points[0]?.vapourKPa ?? 0) / 2.34 - 1)).toBeLessThan(0.06);
});

test('ice melts before the pot warms: 0 C while some is left, and never more of it again', () => {
  const { points } = peakPath(pot(33.3, 0.75));
  const ice = points.map((point) => point.iceLeftMg);
  expect(ice[0]).toBeGreaterThan(500_000);
  ice.slice(1).forEach((left, index) => expect(left).toBeLessThanOrEqual(ice[index] ?? 0));
  for (const point of points) if (point.iceLeftMg > 0) expect(point.temperatureC).toBe(0);
  expect(ice.at(-1)).toBe(0);
});

test('past 45 % the hottest moment comes before the last of the lye', () => {
  expect(peakPath(pot(51.5, 0)).peakAtSharePercent).toBeLessThan(100);
});

test('warnings by how hot: boiling, water boils around the beads, near boiling, nothing', () => {
  expect(codes(peakPath(pot(50, 0, 80)))).toEqual(['boils']);
  expect(codes(peakPath(pot(35, 0)))).toEqual(['water-boils']);
  expect(codes(peakPath(pot(33.3, 0.2)))).toEqual(['near-boiling']);
  expect(codes(peakPath(pot(33.3, 0.5)))).toEqual([]);
  expect(codes(peakPath(pot(10, 1)))).toEqual(['ice-left']);
});

test('20 mol NaOH in 80 mol water from 25 C: past the 98.4 C of the textbook (Felder 8.83 b) yet under its own boiling point', () => {
  const path = peakPath({ naohMg: 799_940, kohMg: 0, waterMg: 1_441_200, waterTemperatureC: 25, iceMg: 0, iceTemperatureC: 0 });
  expect(path.peak.temperatureC).toBeGreaterThan(98.4);
  expect(path.marginC).toBeGreaterThan(0);
});

test('potassium hydroxide: an upper bound, "at most", and the boiling point of water all along', () => {
  const path = peakPath(pot(35, 0, 20, 1));
  expect(path.warnings[0]).toMatchObject({ code: 'boils', detail: expect.stringContaining('at most') });
  expect(new Set(path.points.map((point) => point.boilingPointC))).toEqual(new Set([100]));
});

test('odd numbers of points are put right, and all ice at the start is no division by zero', () => {
  expect(peakPath(pot(30, 0), NaN).points).toHaveLength(21);
  expect(peakPath(pot(30, 0), -5).points).toHaveLength(2);
  expect(peakPath(pot(30, 0), 1e9).points).toHaveLength(201);
  expect(JSON.stringify(peakPath(pot(30, 1)))).not.toContain('null');
});

test('the peak of the path is the peak of the recipe', () => {
  expect(peakPath(pot(40, 0.3)).peak).toEqual(peakTemperature(pot(40, 0.3)));
});

test('without water, or with a figure missing, there is no path and it counts as boiling', () => {
  for (const bad of [{ waterMg: 0, iceMg: 0 }, { waterMg: NaN }, { naohMg: -1 }, { iceTemperatureC: Infinity }, { waterTemperatureC: 201 }, { kohMg: 2e12 }]) {
    const path = peakPath({ ...pot(30, 0.5), ...bad });
    expect(path).toMatchObject({
      points: [],
      marginC: -Infinity,
      peak: { temperatureC: Infinity, steam: 'boiling likely', kind: 'upper bound', iceLeftMg: 0 },
    });
    expect(codes(path)).toEqual(['boils']);
  }
  expect(peakPath({ ...pot(30, 0), waterTemperatureC: 200, iceTemperatureC: -100 }).points).toHaveLength(21);
  expect(peakPath({ ...pot(30, 0), naohMg: 0 }).points).toHaveLength(21);
});
