import { formulate, preparationOf, PURITY_WITHOUT_CERTIFICATE } from '@ashwater/formulation';
import type { RecipeInput } from '@ashwater/formulation';
import { describe, expect, test } from 'vitest';
import { circumstancesOf } from './circumstances.ts';
import { CHART, heatChart } from './heat-chart.ts';
import { amountWords, contributionWords, gramRangeWords, gramWords, iceLeftWords, likelyWords, marginWords } from './words.ts';

const OLIVE: RecipeInput = {
  fats: [{ fatKey: 'olive', sharePercent: 100 }],
  alkali: { kohSharePercent: 0 },
  superfatPercent: 6,
  superfatFloorPercent: 0.5,
  lyeConcentrationPercent: 33,
  iceSharePercent: 50,
  waterTemperatureC: 20,
  iceTemperatureC: -10,
  liquids: [],
  additives: [],
};
const prepared = (change: Partial<RecipeInput> = {}) => {
  const recipe = { ...OLIVE, ...change };
  const formula = formulate(recipe, PURITY_WITHOUT_CERTIFICATE);
  if (!formula.ok) throw new Error(JSON.stringify(formula.problems));
  return preparationOf(recipe, PURITY_WITHOUT_CERTIFICATE, formula.value.lines);
};

describe('words of the results', () => {
  // ISO 80000-1: groups of three by a thin space, a space before the unit; both are kept on one line.
  test('grams in whole figures, tenths under ten, grouped by a thin space', () => {
    expect(gramWords(9_940)).toBe('9.9\u00a0g');
    expect(gramWords(427_400)).toBe('427\u00a0g');
    expect(gramWords(1_060_000)).toBe('1\u202f060\u00a0g');
    expect(gramRangeWords({ low: 950_900, high: 1_059_100 })).toBe('950 to 1\u202f060\u00a0g');
  });

  test('a likely range is stated outward, with its k', () => {
    expect(likelyWords({ low: 3.96, high: 8.01 })).toBe('3.9 to 8.1 % (k = 2)');
  });

  test('a contribution in points and share; small ones are not called nothing', () => {
    const what = 'weighing of Olive oil';
    expect(contributionWords({ what, standardUncertainty: 1.72, varianceSharePercent: 91.6 })).toBe(`${what}: 1.7 points, 92 % of the variance`);
    expect(contributionWords({ what, standardUncertainty: 0.004, varianceSharePercent: 0.02 })).toBe(`${what}: under 0.01 points, under 1 % of the variance`);
    expect(contributionWords({ what, standardUncertainty: 0.052, varianceSharePercent: 1 })).toContain('0.05 points');
  });

  test('nearness to boiling never reads better than it is', () => {
    expect(marginWords(18.9)).toBe('18 °C under boiling at its nearest');
    expect(marginWords(0)).toBe('reaches its boiling point');
    expect(marginWords(-4)).toBe('reaches its boiling point');
  });

  test('ice that is left is named with its mass, for it can still hide beads', () => {
    expect(iceLeftWords(0)).toBe('no ice left at the end');
    expect(iceLeftWords(48_300)).toBe('about 48\u00a0g of ice left at the end');
  });

  test('masses say what they are for', () => {
    expect(amountWords(' ')).toBe('for 1 kg of fat');
    expect(amountWords('1100 mL')).toBe('for 1100 mL');
  });
});

describe('where the pot cools', () => {
  test('blank and unreadable are our default, a typed unit is no fault', () => {
    expect(circumstancesOf({ aroundC: '', workingC: '' })).toEqual({ aroundC: 20, workingC: 40 });
    expect(circumstancesOf({ aroundC: '12,5 °C', workingC: 'warm' })).toEqual({ aroundC: 12.5, workingC: 40 });
    expect(circumstancesOf({ aroundC: '900', workingC: '35' })).toEqual({ aroundC: 20, workingC: 35 });
  });
});

describe('the chart of the heat', () => {
  const { path } = prepared();
  const chart = heatChart(path.points);
  const ends = (line: string) => line.split(' ').map((point) => point.split(',').map(Number) as [number, number]);

  test('begins at the left without lye and ends at the right at the temperature of all of it', () => {
    const line = ends(chart.temperature);
    expect(line).toHaveLength(path.points.length);
    expect(line[0]![0]).toBe(CHART.left);
    expect(line.at(-1)![0]).toBe(CHART.right);
    expect(line.at(-1)![1]).toBeCloseTo(chart.y(path.points.at(-1)!.temperatureC), 0);
  });

  test('all of it lies within the frame, boiling above the pot', () => {
    for (const [, y] of [...ends(chart.temperature), ...ends(chart.boiling)]) {
      expect(y).toBeGreaterThanOrEqual(CHART.top);
      expect(y).toBeLessThanOrEqual(CHART.bottom);
    }
    expect(ends(chart.boiling).every(([, y], i) => y < ends(chart.temperature)[i]![1])).toBe(true);
  });

  test('ice is marked as far as some is left, and not where there was none', () => {
    const last = path.points.filter((point) => point.iceLeftMg > 0).at(-1)!;
    expect(chart.iceUntilPercent).toBe(last.sharePercent);
    expect(heatChart(prepared({ iceSharePercent: 0 }).path.points).iceUntilPercent).toBe(0);
  });

  test('its table has the first, the last and every tenth', () => {
    expect(chart.rows.map((row) => Math.round(row.sharePercent))).toEqual([0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 100]);
  });
});
