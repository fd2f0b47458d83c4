import { describe, expect, it } from 'vitest';
import { kohSolutionDensity } from './koh-solution.ts';
import { naohBoilingPointC, naohSolutionDensity } from './naoh-solution.ts';
import { lyeSolution } from './solution.ts';
import { valueOf } from './testing.ts';

/*
 * Rows of handbook tables beside those in naoh-solution.test.ts and koh-solution.test.ts. From memory, unless it says "read": the
 * handbooks are named, but no copy was seen for these rows.
 */
describe('density tables', () => {
  // Perry's Chemical Engineers' Handbook, 7th ed., Sec. 2, sodium hydroxide at 20 C, from International Critical Tables III.
  it.each([
    [10, 1.1089],
    [20, 1.2191],
    [30, 1.3279],
    [40, 1.43],
    [50, 1.5253],
  ])('%d %% NaOH at 20 °C: %d g/mL within 0.2 %%, alone and as a prepared solution', (percent, density) => {
    expect(Math.abs(naohSolutionDensity(percent / 100, 20) / density - 1)).toBeLessThan(0.002);
    const solution = valueOf(lyeSolution({ naohMg: percent * 1000, kohMg: 0, waterMg: (100 - percent) * 1000 }, 20));
    expect(Math.abs(solution.volumeMl / (100 / density) - 1)).toBeLessThan(0.002);
  });

  // The same, potassium hydroxide at 15 C.
  it.each([
    [10, 1.0918],
    [20, 1.1884],
    [30, 1.2905],
    [40, 1.3991],
    [50, 1.5143],
  ])('%d %% KOH at 15 °C: %d g/mL within 0.15 %%, alone and as a prepared solution', (percent, density) => {
    expect(Math.abs(kohSolutionDensity(percent / 100, 15) / density - 1)).toBeLessThan(0.0015);
    const solution = valueOf(lyeSolution({ naohMg: 0, kohMg: percent * 1000, waterMg: (100 - percent) * 1000 }, 15));
    expect(Math.abs(solution.volumeMl / (100 / density) - 1)).toBeLessThan(0.0015);
  });
});

describe('density of caustic soda from 24 to 50 %, 20 to 100 °C: table of a soap makers’ handbook page (soapworld.biz, read), as in International Critical Tables III', () => {
  const TEMPERATURES_C = [20, 30, 40, 60, 80, 100];
  it.each([
    { percent: 24, densities: [1.2629, 1.257, 1.2512, 1.2388, 1.2259, 1.2124] },
    { percent: 28, densities: [1.3064, 1.3003, 1.2942, 1.2814, 1.2682, 1.2546] },
    { percent: 32, densities: [1.349, 1.3426, 1.3362, 1.3232, 1.3097, 1.296] },
    { percent: 36, densities: [1.39, 1.3834, 1.3768, 1.3634, 1.3498, 1.336] },
    { percent: 40, densities: [1.43, 1.4232, 1.4164, 1.4027, 1.3889, 1.375] },
    { percent: 44, densities: [1.4685, 1.4615, 1.4545, 1.4405, 1.4266, 1.4127] },
    { percent: 48, densities: [1.5065, 1.4993, 1.4922, 1.4781, 1.4641, 1.4503] },
    { percent: 50, densities: [1.5253, 1.5181, 1.5109, 1.4967, 1.4827, 1.469] },
  ])('$percent %: six temperatures, each within 0.2 %', ({ percent, densities }) => {
    densities.forEach((density, index) => expect(Math.abs(naohSolutionDensity(percent / 100, TEMPERATURES_C[index]!) / density - 1)).toBeLessThan(0.002));
  });
});

describe('boiling points at one atmosphere', () => {
  // Boiling points of caustic soda solutions as in producers' handbooks; 50 % (Dow, read) is in naoh-solution.test.ts.
  it.each([
    [10, 103],
    [20, 108],
    [30, 117],
  ])('%d %% NaOH boils near %d °C, within 2 °C', (percent, boilingC) => {
    expect(Math.abs(naohBoilingPointC(percent / 100) - boilingC)).toBeLessThan(2);
  });

  it('water boils at 100 °C', () => {
    expect(naohBoilingPointC(0)).toBeCloseTo(100, 0);
  });
});
