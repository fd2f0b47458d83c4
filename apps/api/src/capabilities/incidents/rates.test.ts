import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { incidenceRate, poissonLimits, ratePer1000h, smallNumberWords, uChart } from './rates.ts';

describe('exact limits of a Poisson count (Garwood, Biometrika 28, 1936)', () => {
  test.each([
    // R package epitools, pois.exact: upper limit of a count of 0 (read)
    [0, 0.95, 0, 3.689, 3],
    // GraphPad, "How QuickCalcs computes the confidence interval of a count": a count of 25, Garwood's method (read)
    [25, 0.9, 17.38, 34.92, 2],
    [25, 0.95, 16.18, 36.9, 2],
    [25, 0.99, 14.0, 41.0, 2],
    // R package survival, example of cipoisson (read; it prints 10.24153, 0.00006 below the exact 10.24159, hence the digits)
    [4, 0.95, 1.0899, 10.2415, 3],
    // Garwood's table (from memory)
    [1, 0.95, 0.0253, 5.5716, 4],
    [5, 0.95, 1.6235, 11.6683, 4],
    [10, 0.95, 4.7954, 18.3904, 4],
    [20, 0.95, 12.2165, 30.8884, 4],
    [100, 0.95, 81.3639, 121.6272, 3],
  ])('a count of %d at %d: %d to %d', (count, confidence, low, high, digits) => {
    const limits = poissonLimits(count, confidence);
    expect(limits.low).toBeCloseTo(low, digits);
    expect(limits.high).toBeCloseTo(high, digits);
  });

  // What the limits mean, summed term by term without any chi-squared: as few or as many as were seen have half of the rest to a thousandth of it.
  const upTo = (count: number, mean: number): number => {
    let [term, sum] = [Math.exp(-mean), Math.exp(-mean)];
    for (let n = 1; n <= count; n += 1) {
      term *= mean / n;
      sum += term;
    }
    return sum;
  };
  test('at the high limit so few, and at the low limit so many, come with half of what is left of the confidence', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 120 }), fc.constantFrom(0.8, 0.9, 0.95, 0.99), (count, confidence) => {
        const tail = (1 - confidence) / 2;
        const { low, high } = poissonLimits(count, confidence);
        expect(upTo(count, high)).toBeCloseTo(tail, 5);
        if (count > 0) expect(1 - upTo(count - 1, low)).toBeCloseTo(tail, 5);
        expect(low).toBeLessThanOrEqual(count);
        expect(high).toBeGreaterThan(count);
      }),
    );
  });

  test('more confidence widens the limits on both sides', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 400 }), fc.uniqueArray(fc.integer({ min: 50, max: 99 }), { minLength: 2, maxLength: 2 }), (count, percents) => {
        const [less, more] = percents.toSorted((a, b) => a - b).map((percent) => poissonLimits(count, percent / 100));
        expect(more!.low).toBeLessThan(less!.low);
        expect(more!.high).toBeGreaterThan(less!.high);
      }),
    );
  });

  test.each([-1, 1.5, NaN, Infinity])('a count of %s is refused', (count) => {
    expect(() => poissonLimits(count)).toThrow(/count/);
  });
  test.each([0, 1, -1, NaN])('a confidence of %s is refused', (confidence) => {
    expect(() => poissonLimits(3, confidence)).toThrow(/confidence/);
  });
});

test('a rate per 1,000 hours carries its limits; without hours there is none', () => {
  const rate = ratePer1000h(10, 500)!;
  expect(rate.rate).toBe(20);
  expect([rate.low, rate.high].map((limit) => Math.round(limit * 100) / 100)).toEqual([9.59, 36.78]);
  expect(ratePer1000h(3, 0)).toBeNull();
  expect(() => ratePer1000h(3, -1)).toThrow(/hours/);
});

/*
 * Incidence rate = cases x 200,000 / hours worked (OSHA's forms for recording injuries, its page on incidence rates, read in a copy, not at OSHA); the 200,000 hours are those of 100
 * employees at 40 hours a week for 50 weeks (the same page; OSHA FAQ 326, read): a firm of just that size has its cases as its rate.
 */
test('the incidence rate is cases times 200,000 over the hours worked', () => {
  expect(incidenceRate(7, 100 * 40 * 50)).toBe(7);
  expect(incidenceRate(3, 60_000)).toBe(10);
  expect(incidenceRate(0, 160)).toBe(0);
  expect(incidenceRate(1, 0)).toBeNull();
  expect(() => incidenceRate(1, NaN)).toThrow(/hoursWorked/);
});

describe('u-chart', () => {
  // NIST/SEMATECH e-Handbook 6.3.3.1, 25 wafers with 400 defects: c-bar 16, limits 4 and 28 (from memory). A c-chart is a u-chart of equal exposure.
  test('the wafers of the NIST handbook: mean 16, limits 4 and 28', () => {
    const wafers = [16, 14, 28, 16, 12, 20, 10, 12, 10, 17, 19, 17, 14, 16, 15, 13, 14, 16, 11, 20, 11, 19, 16, 31, 13];
    expect(wafers.reduce((sum, n) => sum + n, 0)).toBe(400);
    const chart = uChart(wafers.map((count) => ({ count, exposure: 1 })))!;
    expect(chart.mean).toBe(16);
    expect(chart.points.map(({ low, high }) => [low, high])).toEqual(wafers.map(() => [4, 28]));
    expect(chart.points.flatMap(({ outside }, i) => (outside ? [wafers[i]] : []))).toEqual([31]);
  });

  test('a period’s rate is its count over its exposure; unequal exposure widens its limits (SAS/QC user’s guide, u charts: 2 in 2.5 units are 0.8; read)', () => {
    const chart = uChart([
      { count: 2, exposure: 2.5 },
      { count: 4, exposure: 0.5 },
      { count: 0, exposure: 0 },
    ])!;
    expect([chart.mean, chart.points[0]!.rate]).toEqual([2, 0.8]);
    expect(chart.points[0]!.high).toBeCloseTo(2 + 3 * Math.sqrt(2 / 2.5), 9);
    expect(chart.points[1]!.high).toBeCloseTo(8, 9);
    expect(chart.points[1]!.low).toBe(0);
    expect(chart.points[2]).toEqual({ rate: null, low: null, high: null, outside: false });
    expect(chart.points.map(({ outside }) => outside)).toEqual([false, false, false]);
    expect(uChart([{ count: 3, exposure: 0 }])).toBeNull();
    expect(() => uChart([{ count: 1, exposure: -1 }])).toThrow(/exposure/);
  });
});

describe('u-chart, further', () => {
  // SAS/QC user's guide, "Saving Control Limits", data set Fablim: 20 rolls of 30 square metres (read:
  // support.sas.com/documentation/cdl/en/qcug/66114/HTML/default/qcug_shewhart_sect341.htm; the counts from qcug/65562 sect340).
  test('the rolls of fabric of the SAS/QC guide: 0.00167, 0.30333, 0.60500', () => {
    const rolls = [12, 11, 9, 15, 7, 6, 5, 10, 8, 8, 14, 5, 9, 13, 7, 5, 8, 11, 7, 12];
    const chart = uChart(rolls.map((count) => ({ count, exposure: 30 })))!;
    expect(chart.mean).toBeCloseTo(0.30333, 5);
    for (const { low, high, outside } of chart.points) {
      expect(low).toBeCloseTo(0.001671271, 9);
      expect(high).toBeCloseTo(0.605, 5);
      expect(outside).toBe(false);
    }
  });

  test('a period far below the others is outside too', () => {
    const chart = uChart([16, 16, 16, 16, 0].map((count) => ({ count, exposure: 1 })))!;
    expect(chart.points.map(({ outside }) => outside)).toEqual([false, false, false, false, true]);
  });

  test('what was told of in a period without exposure does not move the mean', () => {
    const points = [4, 6].map((count) => ({ count, exposure: 1 }));
    expect(uChart([...points, { count: 9, exposure: 0 }])!.mean).toBe(uChart(points)!.mean);
  });

  test('with an exposure of 1 throughout it is the c-chart: c-bar +- 3 sqrt(c-bar), never below 0', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 200 }), { minLength: 1, maxLength: 30 }), (counts) => {
        const bar = counts.reduce((sum, n) => sum + n, 0) / counts.length;
        const chart = uChart(counts.map((count) => ({ count, exposure: 1 })))!;
        expect(chart.mean).toBeCloseTo(bar, 9);
        for (const { low, high } of chart.points) {
          expect(low).toBeCloseTo(Math.max(0, bar - 3 * Math.sqrt(bar)), 9);
          expect(high).toBeCloseTo(bar + 3 * Math.sqrt(bar), 9);
        }
      }),
    );
  });
});

test.each([
  ['count', () => poissonLimits(-1)],
  ['confidence', () => poissonLimits(1, 1)],
  ['count', () => ratePer1000h(1.5, 10)],
  ['count', () => ratePer1000h(-1, 0)],
  ['hours', () => ratePer1000h(1, NaN)],
  ['cases', () => incidenceRate(-1, 10)],
  ['hoursWorked', () => incidenceRate(1, -1)],
  ['count', () => uChart([{ count: 0.5, exposure: 1 }])],
  ['exposure', () => uChart([{ count: 1, exposure: NaN }])],
  ['count', () => smallNumberWords(-1)],
  ['count', () => smallNumberWords(5.5)],
])('a wrong %s is refused by name with a RangeError', (name, act) => {
  expect(act).toThrow(RangeError);
  expect(act).toThrow(new RegExp(`^${name} `));
});

test('a small number is said to be small, with what it can mean', () => {
  expect(smallNumberWords(2)).toMatch(/^Only 2 .* 0\.2 to 7\.2/);
  expect(smallNumberWords(0)).toMatch(/^None .* 0\.0 to 3\.7/);
  expect([smallNumberWords(4), smallNumberWords(5)].map((words) => words === null)).toEqual([false, true]);
});
