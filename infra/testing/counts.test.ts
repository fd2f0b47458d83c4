import { expect, test } from 'vitest';
import { countPlaywright, countVitest, lastLine, strict } from './counts.ts';

const vitest = { numPassedTests: 3, numFailedTests: 1, numPendingTests: 0, numTodoTests: 0, testResults: [] };

test('failed, unloadable and left-out tests all count as failed', () => {
  expect(countVitest(vitest)).toEqual({ passed: 3, failed: 1 });
  expect(
    countVitest({
      ...vitest,
      testResults: [
        { status: 'failed', assertionResults: [] },
        { status: 'failed', assertionResults: [1] },
      ],
    }),
  ).toEqual({ passed: 3, failed: 2 });
  expect(countVitest({ ...vitest, numPendingTests: 2, numTodoTests: 1 })).toEqual({ passed: 3, failed: 4, note: '3 left out' });
  expect(countPlaywright({ stats: { expected: 5, unexpected: 1, flaky: 1, skipped: 1 }, errors: [] })).toEqual({ passed: 5, failed: 3, note: '1 left out' });
  expect(countPlaywright({ stats: { expected: 0, unexpected: 0, flaky: 0, skipped: 0 }, errors: ['set-up'] })).toEqual({ passed: 0, failed: 1 });
});

test('a stage that checked nothing has failed, and so has one whose program failed for another reason', () => {
  expect(strict({ passed: 0, failed: 0 }, 0)).toMatchObject({ passed: 0, failed: 1 });
  expect(strict({ passed: 4, failed: 0 }, 1)).toMatchObject({ passed: 4, failed: 1 });
  expect(strict({ passed: 4, failed: 2 }, 1)).toEqual({ passed: 4, failed: 2 });
  expect(strict({ passed: 4, failed: 0 }, 0)).toEqual({ passed: 4, failed: 0 });
});

test('the last line adds up all stages', () => {
  expect(
    lastLine([
      { passed: 1, failed: 0 },
      { passed: 40, failed: 2 },
    ]),
  ).toBe('41 passed, 2 failed');
});
