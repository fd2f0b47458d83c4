import { expect, test } from 'vitest';
import { judgeEntered } from './judge.ts';
import { STEPS, stationView } from './testing.ts';

const { content } = stationView().card;
const verdict = (no: number, entered: string) => {
  const judged = judgeEntered(STEPS[no - 1]!, content, entered);
  return judged.ok ? [judged.value.verdict, judged.value.offBy] : judged.detail;
};

test('both ends of the accepted range are within; a tenth of a gram beyond is off by just that', () => {
  expect(verdict(2, '140.5')).toEqual(['within', 0]);
  expect(verdict(2, '141,5 g')).toEqual(['within', 0]);
  expect(verdict(2, '140.4')).toEqual(['under', 100]);
  expect(verdict(2, '141.6')).toEqual(['over', 100]);
});

test('a blank never becomes zero, and an ambiguous number is refused with how to write it', () => {
  expect(verdict(2, '')).toEqual(expect.any(String));
  expect(verdict(2, '1,234')).toEqual(expect.stringMatching(/1,234/));
  expect(verdict(1, '5')).toBe('This step takes no reading.');
});

test('a step put in by a change is judged by its own target, not by its line’s', () => {
  const addition = { ...STEPS[1]!, targetMg: 10_000, acceptLowMg: 9_500, acceptHighMg: 10_500 };
  expect(judgeEntered(addition, content, '10')).toMatchObject({ value: { verdict: 'within' } });
  expect(judgeEntered(addition, content, '141')).toMatchObject({ value: { verdict: 'over' } });
});

test('a temperature may be typed with its unit; too hot calls the instructor', () => {
  expect(verdict(4, '40 °C')).toEqual(['within', 0]);
  expect(verdict(4, '41.5')).toEqual(['over', 1500]);
  expect(judgeEntered(STEPS[3]!, content, '41.5')).toMatchObject({ value: { advice: expect.stringMatching(/Call your instructor/) } });
});
