import { stripVTControlCharacters } from 'node:util';

/** Outcome of one stage of `npm test`. */
export interface Counts {
  passed: number;
  failed: number;
  note?: string;
  /** What failed and why in its first lines: said again at the very end, where a build server that keeps only the end still shows it. */
  failures?: string[];
}

/** Shape of the JSON report of vitest, as far as it is read here. */
export interface VitestReport {
  numPassedTests: number;
  numFailedTests: number;
  numPendingTests: number;
  numTodoTests: number;
  testResults: {
    name: string;
    status: string;
    message?: string;
    assertionResults: { status: string; fullName: string; failureMessages?: string[] | null }[];
  }[];
}

/** Shape of the JSON report of Playwright, as far as it is read here. */
export interface PlaywrightReport {
  stats: { expected: number; unexpected: number; flaky: number; skipped: number };
  errors: { message?: string }[];
  suites: PlaywrightSuite[];
}

export interface PlaywrightSuite {
  suites?: PlaywrightSuite[];
  specs?: { title: string; ok: boolean; tests: { results: { error?: { message?: string } }[] }[] }[];
}

const SAID_LINES = 12;

// The codes that colour a terminal would make a plain log hard to read.
const firstLines = (text = ''): string => stripVTControlCharacters(text).split('\n').slice(0, SAID_LINES).join('\n');

const saidIfAny = (failures: string[]): Pick<Counts, 'failures'> => (failures.length > 0 ? { failures } : {});

function vitestFailures({ testResults }: VitestReport): string[] {
  return testResults.flatMap(({ name, status, message, assertionResults }) => {
    const failed = assertionResults
      .filter((test) => test.status === 'failed')
      .map((test) => `${name}: ${test.fullName}\n${firstLines(test.failureMessages?.[0])}`);
    return status === 'failed' && failed.length === 0 ? [`${name}: ${firstLines(message)}`] : failed;
  });
}

function playwrightFailures(suites: PlaywrightSuite[]): string[] {
  return suites.flatMap((suite) => [
    ...(suite.specs ?? [])
      .filter((spec) => !spec.ok)
      .map((spec) => `${spec.title}\n${firstLines(spec.tests.flatMap((one) => one.results).find((result) => result.error)?.error?.message)}`),
    ...playwrightFailures(suite.suites ?? []),
  ]);
}

/** Counts a vitest run. A file that could not be loaded counts as one failed test, a test left out as failed. */
export function countVitest(report: VitestReport): Counts {
  const unloaded = report.testResults.filter((file) => file.status === 'failed' && file.assertionResults.length === 0).length;
  const leftOut = report.numPendingTests + report.numTodoTests;
  return {
    passed: report.numPassedTests,
    failed: report.numFailedTests + unloaded + leftOut,
    ...(leftOut > 0 && { note: `${leftOut} left out` }),
    ...saidIfAny(vitestFailures(report)),
  };
}

/** Counts a Playwright run. A test that passed only when repeated, or was left out, counts as failed. */
export function countPlaywright(report: PlaywrightReport): Counts {
  const { expected, unexpected, flaky, skipped } = report.stats;
  return {
    passed: expected,
    failed: unexpected + flaky + skipped + (unexpected === 0 ? report.errors.length : 0),
    ...(skipped > 0 && { note: `${skipped} left out` }),
    ...saidIfAny([...report.errors.map((error) => firstLines(error.message)), ...playwrightFailures(report.suites)]),
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
