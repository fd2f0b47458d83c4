import { expect, test } from 'vitest';
import { doubtOf, judgeDifference } from './rules.ts';
import type { SignedWeighing } from './rules.ts';

// Scales that show 1 g, never checked: OIML R 76-1:2006, Table 6, class III in service: 1 g up to 500 g, 2 g up to 2 kg.
const weighing = (scaleKey: string, g: number, sign: 1 | -1): SignedWeighing => ({ scale: 1000, scaleKey, massMg: g * 1000, sign });
const ROUNDING = 1000 ** 2 / 12;
const OWN_1 = 1000 / Math.sqrt(3);

test('GUM by hand: one weighing has its rounding and its scale’s own error (JCGM 100, F.2.2.1 and 4.3.7)', () => {
  expect(doubtOf([weighing('a', 300, 1)])).toBeCloseTo(Math.sqrt(ROUNDING + OWN_1 ** 2), 6);
  expect(doubtOf([])).toBe(0);
});

test('on one scale the own errors of out and back cancel, and those of four readings add before squaring; on four scales they add as squares', () => {
  expect(doubtOf([weighing('a', 300, 1), weighing('a', 120, -1)])).toBeCloseTo(Math.sqrt(2 * ROUNDING), 6);
  const four = (key: (n: number) => string) => doubtOf([1, 2, 3, 4].map((n) => weighing(key(n), 140, -1)));
  expect(four(() => 'a')).toBeCloseTo(Math.sqrt(4 * ROUNDING + (4 * OWN_1) ** 2), 6);
  expect(four((n) => `bench ${n}`)).toBeCloseTo(Math.sqrt(4 * ROUNDING + 4 * OWN_1 ** 2), 6);
});

test('a checked scale is as good as its check: 0.05 g hidden by a step of 0.1 g', () => {
  const scale = { stepMg: 100, capacityMg: 2_000_000, checkWeighings: [{ knownMg: 1_000_000, shownMg: 1_000_000 }] };
  expect(doubtOf([{ scale, scaleKey: 'fine', massMg: 300_000, sign: 1 }])).toBeCloseTo(Math.sqrt(100 ** 2 / 12 + 50 ** 2 / 3), 6);
});

const told = (differenceMg: number, more: object = {}) =>
  judgeDifference({ outMg: 0, differenceMg, explainedMg: 0, standardUncertaintyMg: 1000, cards: 3, ...more });

test('up to two standard uncertainties agrees, up to three is unclear, past that it does not agree; on both sides', () => {
  const verdicts = [0, 2000, 2001, 3000, 3001].flatMap((mg) => [told(mg).verdict, told(-mg).verdict]);
  expect(verdicts).toEqual([
    ...['agrees', 'agrees', 'agrees', 'agrees'],
    ...['unclear', 'unclear', 'unclear', 'unclear'],
    ...['does not agree', 'does not agree'],
  ]);
  expect(told(1, { standardUncertaintyMg: 0 }).verdict).toBe('does not agree');
});

test('the words say which way, how far beyond weighing, and what to do', () => {
  expect(told(12_000).words).toBe(
    '12\u00a0g more left the cabinet than the cards weighed, 12 times what weighing leaves in doubt (1\u00a0g). Find out what became of it.',
  );
  expect(told(-12_000).words).toMatch(/^The cards weighed 12\sg more than left the cabinet/);
  expect(told(12_000, { cards: 0 }).words).toMatch(/No card has a reading/);
  expect(told(1000).words).toMatch(/^1\sg apart; weighing alone leaves 1\sg in doubt\. They agree\.$/);
});

test('explaining part leaves the rest open; explaining enough settles it; nothing is judged while some is out', () => {
  expect(told(12_000, { explainedMg: 6000 })).toMatchObject({
    verdict: 'does not agree',
    openMg: 6000,
    words: expect.stringMatching(/6\sg of 12\sg is explained/),
  });
  expect(told(12_000, { explainedMg: 10_500 })).toMatchObject({ verdict: 'explained', openMg: 1500 });
  expect(told(-12_000, { explainedMg: -12_000 })).toMatchObject({ verdict: 'explained', openMg: 0 });
  expect(told(12_000, { outMg: 5000 })).toMatchObject({ verdict: 'still out' });
});
