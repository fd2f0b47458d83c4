import { expect, test } from 'vitest';
import { problem } from './outcome.ts';
import { checkMass, checkPercent, checkTemperature, whenSound } from './when-sound.ts';

test('with a problem the value is never worked out', () => {
  const worked: string[] = [];
  const outcome = whenSound([problem('value-missing', '/x', 'x is missing.')], () => worked.push('done'));
  expect([outcome.ok, worked]).toEqual([false, []]);
  expect(whenSound([], () => 7)).toEqual({ ok: true, value: 7 });
});

test('ends of the ranges: one tonne, 160 C, 100 %', () => {
  expect(checkMass(1_000_000_000, '/m', 'The mass')).toEqual([]);
  expect(checkMass(1_000_000_001, '/m', 'The mass')).toHaveLength(1);
  expect([checkTemperature(160, '/t', 'T'), checkPercent(100, '/p', 'P')]).toEqual([[], []]);
  expect([checkTemperature(161, '/t', 'T'), checkPercent(-0.1, '/p', 'P')].flat()).toHaveLength(2);
});
