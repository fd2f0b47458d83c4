import { expect, test } from 'vitest';
import { judgeReading, judgeTemperature } from './reading.ts';

const LYE = { kind: 'naoh', name: 'Sodium hydroxide', targetMg: 131_000, acceptLowMg: 130_000, acceptHighMg: 131_000 } as const;
const OIL = { kind: 'fat', name: 'Olive oil', targetMg: 500_000, acceptLowMg: 498_000, acceptHighMg: 502_000 } as const;

test.each([
  [130_000, 'within', 0],
  [131_000, 'within', 0],
  [129_999, 'under', 1],
  [131_001, 'over', 1],
] as const)('%d mg of lye for 130 to 131 g is %s by %d mg', (readingMg, verdict, byMg) => {
  expect(judgeReading(LYE, readingMg)).toMatchObject({ verdict, byMg });
});

test('too little says how much is to go, up to the target', () => {
  expect(judgeReading(LYE, 120_000).advice).toBe('Add Sodium hydroxide to 131\u00a0g: 11\u00a0g to go.');
});

test('too much lye comes out dry and never goes back into its container', () => {
  expect(judgeReading(LYE, 133_000).advice).toContain('Take 2\u00a0g of Sodium hydroxide out with a dry spoon into the spare container');
  expect(judgeReading(OIL, 505_000).advice).toBe('Take 5\u00a0g of Olive oil out before you go on.');
});

test.each([NaN, Infinity, -Infinity])('a reading of %d is never within', (readingMg) => {
  expect(judgeReading({ ...OIL, acceptLowMg: 0 }, readingMg).verdict).toBe('under');
});

test('on a scale of 0.1 oz steps, 4.4 oz (124.738 g, NIST factor) meets a low limit planned as 44 steps of 2.835 g', () => {
  const line = { ...LYE, targetMg: 127_575, acceptLowMg: 124_740, acceptHighMg: 127_575 };
  expect(judgeReading(line, 124_738).verdict).toBe('under');
  expect(judgeReading({ ...line, stepMg: 2835 }, 124_738).verdict).toBe('within');
  expect(judgeReading({ ...line, stepMg: 2835 }, 124_730).verdict).toBe('under');
  expect(judgeReading({ ...line, stepMg: 2835 }, 127_590).verdict).toBe('over');
});

test('temperatures are judged the same way, in tenths', () => {
  const range = { lowC: 30, highC: 40 };
  expect(judgeTemperature(range, 40)).toMatchObject({ verdict: 'within', byC: 0 });
  expect(judgeTemperature(range, 43.26)).toMatchObject({ verdict: 'over', byC: 3.3 });
  expect(judgeTemperature(range, 28)).toMatchObject({ verdict: 'under', byC: 2 });
  expect(judgeTemperature(range, NaN).verdict).toBe('over');
});
