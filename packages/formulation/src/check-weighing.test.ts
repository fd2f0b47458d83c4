import { fc, test } from '@fast-check/vitest';
import { expect } from 'vitest';
import { checkScale } from './check-scale.ts';
import { checkedLimitMg } from './check-weighing.ts';
import { calibrationLimitMg, errorLimitMg } from './scale-error.ts';

test('the worst check counts up to the heaviest known mass, half a step is hidden, and past it the limit grows', () => {
  const checks = [
    { knownMg: 100_000, shownMg: 100_200 },
    { knownMg: 500_000, shownMg: 499_600, knownLimitMg: 50 },
  ];
  expect(checkedLimitMg(100, checks, 200_000)).toBe(400 + 50 + 50);
  expect(checkedLimitMg(100, checks, 500_000)).toBe(500);
  expect(checkedLimitMg(100, checks, 1_000_000)).toBe(1000);
});

test('check weighings are believed before any class, whether they show a better scale or a worse one', () => {
  const scale = { stepMg: 100, capacityMg: 1_000_000, accuracyClass: 'III' as const };
  expect(errorLimitMg(scale, 300_000)).toBe(350);
  expect(errorLimitMg({ ...scale, checkWeighings: [{ knownMg: 500_000, shownMg: 500_000 }] }, 300_000)).toBe(100);
  expect(errorLimitMg({ ...scale, checkWeighings: [{ knownMg: 500_000, shownMg: 502_000 }] }, 300_000)).toBe(2100);
  expect(errorLimitMg({ ...scale, checkWeighings: [] }, 300_000)).toBe(350);
});

test('a verification interval wider than the step sets the limit, the step only the rounding', () => {
  // d = 0.1 g, e = 1 g: 300 g are 300 e, so 1 e in service, and half of 0.1 g.
  expect(errorLimitMg({ stepMg: 100, verificationIntervalMg: 1000 }, 300_000)).toBe(1050);
  expect(errorLimitMg({ stepMg: 100, verificationIntervalMg: 1000, accuracyClass: 'II' }, 6_000_000)).toBe(2050);
});

test.prop([fc.constantFrom(1, 100, 1000), fc.integer({ min: 0, max: 20_000_000 })])(
  'a scale that states nothing is judged as its step alone',
  (stepMg, massMg) => {
    expect(calibrationLimitMg({ stepMg }, massMg)).toBe(calibrationLimitMg(stepMg, massMg));
  },
);

test.prop([fc.constantFrom(100, 500, 1000, 2000), fc.integer({ min: 1, max: 5_000_000 })])(
  'a mass rounded to the step is off by no more than half a step (JCGM 100, F.2.2.1)',
  (stepMg, massMg) => {
    const shown = Math.round(massMg / stepMg) * stepMg;
    expect(Math.abs(shown - massMg)).toBeLessThanOrEqual(errorLimitMg(stepMg, shown) - calibrationLimitMg(stepMg, shown));
  },
);

test.each([
  [{ verificationIntervalMg: 50 }, '/scale/verificationIntervalMg'],
  [{ verificationIntervalMg: 1001 }, '/scale/verificationIntervalMg'],
  [{ verificationIntervalMg: NaN }, '/scale/verificationIntervalMg'],
  [{ accuracyClass: 'V' }, '/scale/accuracyClass'],
  [{ checkWeighings: [{ knownMg: 0, shownMg: 0 }] }, '/scale/checkWeighings/0/knownMg'],
  [{ checkWeighings: [{ knownMg: 1000, shownMg: -1 }] }, '/scale/checkWeighings/0/shownMg'],
  [{ checkWeighings: [{ knownMg: 1000, shownMg: 1000, knownLimitMg: -1 }] }, '/scale/checkWeighings/0/knownLimitMg'],
])('an impossible statement of accuracy is refused: %j', (wrong, pointer) => {
  const scale = JSON.parse(JSON.stringify({ stepMg: 100, capacityMg: 1_000_000 })) as Parameters<typeof checkScale>[0];
  expect(checkScale({ ...scale, ...(wrong as object) }).map((each) => `${each.code} ${each.pointer}`)).toEqual([`value-out-of-range ${pointer}`]);
});
