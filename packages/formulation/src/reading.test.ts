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

test.each(['targetMg', 'acceptLowMg', 'acceptHighMg'] as const)('where %s is not known no reading is within, and the advice is a new card', (key) => {
  expect(judgeReading({ ...LYE, [key]: NaN }, 130_500)).toEqual({
    verdict: 'under',
    byMg: 0,
    advice: 'The accepted range of Sodium hydroxide is not known: do not go on without a new weigh card.',
  });
});

test.each(['lowC', 'highC'] as const)('where %s is not known no temperature is within', (key) => {
  expect(judgeTemperature({ lowC: 30, highC: 40, [key]: NaN }, 35)).toMatchObject({
    verdict: 'over',
    byC: 0,
    advice: expect.stringContaining('not known') as string,
  });
});

test('advice on temperatures: warm gently, wait, never cool with water', () => {
  const range = { lowC: 30, highC: 40 };
  expect(judgeTemperature(range, 28.04).advice).toBe('2 °C below 30 °C: warm it gently and measure again.');
  expect(judgeTemperature(range, 41.5).advice).toBe('1.5 °C above 40 °C: wait, and measure again.');
  expect(judgeTemperature(range, 35.55).advice).toBe('35.6 °C is within 30 to 40 °C.');
  expect(judgeTemperature(range, 30).verdict).toBe('within');
  expect(judgeTemperature(range, NaN).advice).toBe('No temperature was read; measure again.');
});

test('too much potassium hydroxide comes out like any lye; slack is for ounces alone', () => {
  expect(judgeReading({ ...LYE, kind: 'koh', name: 'Potassium hydroxide' }, 133_000).advice).toContain('with a dry spoon');
  // 2 parts in 100 000 of 130 000 mg are 3 mg (rounded up); on a step of 1 mg or of 100 mg none.
  for (const stepMg of [1, 9, 10, 100]) expect(judgeReading({ ...LYE, stepMg }, 131_003).verdict).toBe('over');
  expect(judgeReading({ ...LYE, stepMg: 2835 }, 131_003).verdict).toBe('within');
  expect(judgeReading({ ...LYE, stepMg: 2835 }, 131_004).verdict).toBe('over');
});
