/** Outcome of one stage of `npm test`. */
export interface Counts {
  passed: number;
  failed: number;
  note?: string;
}

/** Shape of the JSON report of vitest, as far as it is read here. */
export interface VitestReport {
  numPassedTests: number;
  numFailedTests: number;
  numPendingTests: number;
  numTodoTests: number;
  testResults: { status: string; assertionResults: unknown[] }[];
}

/** Shape of the JSON report of Playwright, as far as it is read here. */
export interface PlaywrightReport {
  stats: { expected: number; unexpected: number; flaky: number; skipped: number };
  errors: unknown[];
}

/** Counts a vitest run. A file that could not be loaded counts as one failed test, a test left out as failed. */
export function countVitest(report: VitestReport): Counts {
  const unloaded = report.testResults.filter((file) => file.status === 'failed' && file.assertionResults.length === 0).length;
  const leftOut = report.numPendingTests + report.numTodoTests;
  return { passed: report.numPassedTests, failed: report.numFailedTests + unloaded + leftOut, ...(leftOut > 0 && { note: `${leftOut} left out` }) };
}

/** Counts a Playwright run. A test that passed only when repeated, or was left out, counts as failed. */
export function countPlaywright(report: PlaywrightReport): Counts {
  const { expected, unexpected, flaky, skipped } = report.stats;
  return {
    passed: expected,
    failed: unexpected + flaky + skipped + (unexpected === 0 ? report.errors.length : 0),
    ...(skipped > 0 && { note: `${skipped} left out` }),
  };
}

/** Makes sure that a stage cannot look sound when its program failed, or when it checked nothing. */
export function strict(counts: Counts, exitCode: number): Counts {
  if (counts.passed + counts.failed === 0) return { passed: 0, failed: 1, note: 'found nothing to check' };
  if (exitCode !== 0 && counts.failed === 0) return { ...counts, failed: 1, note: `ended with ${exitCode}` };
  return counts;
}

/** The last line of `npm test`. */
export function lastLine(all: Counts[]): string {
  const sum = (key: 'passed' | 'failed'): number => all.reduce((total, counts) => total + counts[key], 0);
  return `${sum('passed')} passed, ${sum('failed')} failed`;
}
