import { fc, test } from '@fast-check/vitest';
import { describe, expect, it } from 'vitest';
import { classTotals } from './class-totals.ts';
import type { LineKind } from './recipe.ts';
import { CERTIFIED, PLAIN_RECIPE, codesOf, detailsOf, valueOf } from './testing.ts';
import { planWeighing } from './weigh-plan.ts';

const line = (targetMg: number, stepMg = 1000, key = 'fat:olive', name = 'Olive oil', kind: LineKind = 'fat') => ({ key, kind, name, targetMg, stepMg });
const naoh = (targetMg: number, stepMg = 1000) => line(targetMg, stepMg, 'naoh', 'Sodium hydroxide', 'naoh');

describe('totals of a class', () => {
  it('sums each line over the stations and rounds the spare up to whole steps, by hand', () => {
    // 500 + 501 + 502 g = 1503 g; 10 % is 150.3 g, so 1654 g in steps of 1 g. Lye 3 x 70 g = 210 g, spare exactly 21 g.
    const totals = valueOf(
      classTotals(
        [500, 501, 502].map((grams) => ({ lines: [line(grams * 1000), naoh(70_000)] })),
        10,
      ),
    );
    expect(totals).toEqual([
      { key: 'fat:olive', kind: 'fat', name: 'Olive oil', stations: 3, sumMg: 1_503_000, spareMg: 151_000, totalMg: 1_654_000, stepMg: 1000 },
      { key: 'naoh', kind: 'naoh', name: 'Sodium hydroxide', stations: 3, sumMg: 210_000, spareMg: 21_000, totalMg: 231_000, stepMg: 1000 },
    ]);
  });

  it('a spare that is exact in tenths of a percent adds no step: 7 % of 300 g on a scale of 1 g is 21 g', () => {
    // 300 000 * 1.07 is 321 000.00000000006 in floating point.
    expect(valueOf(classTotals([{ lines: [line(300_000)] }], 7))).toMatchObject([{ spareMg: 21_000, totalMg: 321_000 }]);
    expect(valueOf(classTotals([{ lines: [line(1_000_000)] }], 0.1))).toMatchObject([{ spareMg: 1000 }]);
  });

  it('without spare the total is the sum', () => {
    expect(valueOf(classTotals([{ lines: [line(123_000)] }], 0))).toMatchObject([{ sumMg: 123_000, spareMg: 0, totalMg: 123_000 }]);
  });

  it('the coarsest scale counts, and a line that one recipe lacks counts fewer stations', () => {
    const totals = valueOf(classTotals([{ lines: [line(100_500, 500), naoh(15_000)] }, { lines: [line(102_000, 2000)] }], 0));
    expect(totals).toMatchObject([
      { stations: 2, sumMg: 202_500, stepMg: 2000, totalMg: 204_000 },
      { key: 'naoh', stations: 1 },
    ]);
  });

  it('two additives under one key but of other names stay apart', () => {
    const totals = valueOf(
      classTotals([{ lines: [line(5000, 100, 'additive:0', 'Clay', 'additive')] }, { lines: [line(7000, 100, 'additive:0', 'Oats', 'additive')] }], 0),
    );
    expect(totals.map(({ name, sumMg }) => [name, sumMg])).toEqual([
      ['Clay', 5000],
      ['Oats', 7000],
    ]);
  });

  it('takes the plans of stations as they are', () => {
    const plan = valueOf(planWeighing(PLAIN_RECIPE, CERTIFIED, { volumeMl: 1100 }, { stepMg: 1000, capacityMg: 5_000_000 }));
    const totals = valueOf(classTotals([plan, plan], 0));
    expect(totals.map((total) => total.sumMg)).toEqual(plan.lines.map((each) => 2 * each.targetMg));
  });
});

describe('what is refused', () => {
  const codes = (targetMg: number, stepMg: number, spare = 5): string[] =>
    codesOf(classTotals([{ lines: [line(1000)] }, { lines: [line(targetMg, stepMg)] }], spare));

  it('typed problems with their place', () => {
    expect(codes(0.5, 1000)).toEqual(['value-out-of-range /plans/1/lines/0/targetMg']);
    expect(codes(-1, 1000)).toEqual(['value-out-of-range /plans/1/lines/0/targetMg']);
    expect(codes(1000, 0)).toEqual(['value-out-of-range /plans/1/lines/0/stepMg']);
    expect(codes(1000, 1.5)).toEqual(['value-out-of-range /plans/1/lines/0/stepMg']);
    expect(codes(1000, 1000, 101)).toEqual(['value-out-of-range /sparePercent']);
    expect(codesOf(classTotals([], 5))).toEqual(['value-out-of-range /plans']);
    expect(
      codesOf(
        classTotals(
          Array.from({ length: 1001 }, () => ({ lines: [] })),
          5,
        ),
      ),
    ).toEqual(['value-out-of-range /plans']);
    expect(detailsOf(classTotals([{ lines: [line(0.5)] }], 5))).toEqual(['The target is 0.5 mg; masses are whole milligrams.']);
  });
});

const plans = fc.array(fc.array(fc.tuple(fc.constantFrom('a', 'b', 'c'), fc.integer({ min: 0, max: 5_000_000 })), { minLength: 1, maxLength: 4 }), {
  minLength: 1,
  maxLength: 24,
});

test.prop([plans, fc.integer({ min: 0, max: 1000 }), fc.constantFrom(1, 100, 500, 2835)])(
  'no line ends short of its spare, none a step over it, and every total is whole steps',
  (classes, tenths, stepMg) => {
    const totals = valueOf(
      classTotals(
        classes.map((lines) => ({ lines: lines.map(([name, mass]) => line(mass, stepMg, name, name)) })),
        tenths / 10,
      ),
    );
    for (const total of totals) {
      const sum = classes.flat().reduce((all, [name, mass]) => (name === total.key ? all + mass : all), 0);
      expect(total.sumMg).toBe(sum);
      expect(total.totalMg % stepMg).toBe(0);
      // In whole numbers: total * 1000 against sum * (1000 + tenths).
      expect(BigInt(total.totalMg) * 1000n >= BigInt(sum) * BigInt(1000 + tenths)).toBe(true);
      expect(BigInt(total.totalMg - stepMg) * 1000n < BigInt(sum) * BigInt(1000 + tenths) || sum === 0).toBe(true);
    }
  },
);
