import { expect, test } from 'vitest';
import { lossWords, sinceWords, worstVerdict } from './count-words.ts';

const plain = (words: string) => words.replaceAll('\u00a0', ' ');
const since = (over: object) =>
  plain(sinceWords({ at: null, unaccountedMg: 310_000, standardUncertaintyMg: 62_000, verdict: 'does not agree', times: 5, ...over }));

test('what is short is told with how many times weighing can explain it', () => {
  expect(since({})).toBe('310 g short, 5.0 times what weighing leaves in doubt (62 g). This is not weighing.');
  expect(since({ unaccountedMg: -150_000, verdict: 'unclear', times: 2.42 })).toBe(
    '150 g too much, 2.4 times what weighing leaves in doubt (62 g). Unclear: count again, with a finer scale if there is one.',
  );
  expect(since({ verdict: 'agrees', unaccountedMg: 1000, times: 0.02 })).toBe('1 g short, which weighing alone can explain (it leaves 62 g in doubt).');
  expect(since({ verdict: 'agrees', unaccountedMg: 0, standardUncertaintyMg: 0 })).toBe('nothing is unaccounted for (weighing leaves 0.01 g in doubt).');
  expect(since({ times: null })).toContain('weighing leaves 62 g in doubt');
});

test('the running test tells its sum, its limit and how often it is wrong', () => {
  const losses = { sum: 1.24, limit: 5, alarm: false, since: null, counts: 7, falseAlarmEvery: 930 };
  expect(lossWords(losses)).toBe('No sign of slow losses in 7 counts. Running sum 1.2, limit 5. Weighing alone sets this off about once in 930 counts.');
  expect(lossWords({ ...losses, counts: 1 })).toContain('this is the first');
  expect(lossWords({ ...losses, alarm: true, sum: 6 })).toContain('Look for a use that nobody wrote down.');
});

test('the verdict shown is the worst of the three', () => {
  const losses = { sum: 0, limit: 5, alarm: false, since: null, counts: 7, falseAlarmEvery: 930 };
  const sinceLast = { at: null, unaccountedMg: 0, standardUncertaintyMg: 1, verdict: 'agrees', times: 0 };
  const result = {
    substance: 'NaOH' as const,
    bookMg: 1,
    countedMg: 1,
    unaccountedMg: 0,
    standardUncertaintyMg: 1,
    words: '',
    verdict: 'agrees',
    sinceLast,
    losses,
  };
  expect(worstVerdict(result)).toBe('agrees');
  expect(worstVerdict({ ...result, sinceLast: { ...sinceLast, verdict: 'unclear' } })).toBe('unclear');
  expect(worstVerdict({ ...result, verdict: 'does not agree' })).toBe('does not agree');
  expect(worstVerdict({ ...result, losses: { ...losses, alarm: true } })).toBe('does not agree');
  const { sinceLast: _since, losses: _losses, ...earlier } = result;
  expect(worstVerdict({ ...earlier, verdict: 'unclear' })).toBe('unclear');
});
