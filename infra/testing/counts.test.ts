import { expect, test } from 'vitest';
import { countPlaywright, countVitest, lastLine, strict } from './counts.ts';

const vitest = { numPassedTests: 3, numFailedTests: 1, numPendingTests: 0, numTodoTests: 0, testResults: [] };

test('failed, unloadable and left-out tests all count as failed', () => {
  expect(countVitest(vitest)).toEqual({ passed: 3, failed: 1 });
  expect(
    countVitest({
      ...vitest,
      testResults: [
        { name: 'a.test.ts', status: 'failed', message: 'does not load', assertionResults: [] },
        {
          name: 'b.test.ts',
          status: 'failed',
          assertionResults: [{ status: 'failed', fullName: 'adds up', failureMessages: ['\u001b[31mexpected 2, got 3\u001b[39m'] }],
        },
        { name: 'c.test.ts', status: 'passed', assertionResults: [{ status: 'passed', fullName: 'is sound' }] },
      ],
    }),
  ).toEqual({ passed: 3, failed: 2, failures: ['a.test.ts: does not load', 'b.test.ts: adds up\nexpected 2, got 3'] });
  expect(countVitest({ ...vitest, numPendingTests: 2, numTodoTests: 1 })).toEqual({ passed: 3, failed: 4, note: '3 left out' });
  const stats = { expected: 5, unexpected: 1, flaky: 1, skipped: 1 };
  const specs = [
    { title: 'a class', ok: false, tests: [{ results: [{ error: { message: 'no button' } }] }] },
    { title: 'a print', ok: true, tests: [] },
  ];
  expect(countPlaywright({ stats, errors: [], suites: [{ suites: [{ specs }] }] })).toEqual({
    passed: 5,
    failed: 3,
    note: '1 left out',
    failures: ['a class\nno button'],
  });
  const none = { expected: 0, unexpected: 0, flaky: 0, skipped: 0 };
  expect(countPlaywright({ stats: none, errors: [{ message: 'set-up' }], suites: [] })).toEqual({ passed: 0, failed: 1, failures: ['set-up'] });
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
