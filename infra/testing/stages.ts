import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { inRepository } from '../paths.ts';
import { findChromium } from './chromium.ts';
import { countPlaywright, countVitest, strict } from './counts.ts';
import type { Counts, PlaywrightReport, VitestReport } from './counts.ts';

/** One part of `npm test`: it always ends with counts, never with an exception. */
export interface Stage {
  name: string;
  what: string;
  run(): Promise<Counts>;
}

const require = createRequire(import.meta.url);

/** Absolute path of a package's command, to be run with this Node. */
function programOf(packageName: string, command = packageName): string {
  // Many packages hide package.json from require(); the folder is where it always is.
  const manifestFile = inRepository('node_modules', packageName, 'package.json');
  const { bin } = require(manifestFile) as { bin: string | Record<string, string> };
  return join(dirname(manifestFile), typeof bin === 'string' ? bin : (bin[command] ?? command));
}

function runProgram(args: string[], cwd = inRepository(), env: NodeJS.ProcessEnv = {}): Promise<number> {
  const child = spawn(process.execPath, args, { cwd, stdio: ['ignore', 'inherit', 'inherit'], env: { ...process.env, ...env } });
  return new Promise((resolve) => {
    child.once('error', () => resolve(1));
    child.once('exit', (code) => resolve(code ?? 1));
  });
}

const tool = (name: string, what: string, args: () => string[], folder = ''): Stage => ({
  name,
  what,
  run: async () => ((await runProgram(args(), inRepository(folder))) === 0 ? { passed: 1, failed: 0 } : { passed: 0, failed: 1 }),
});

function freshReport(name: string): string {
  mkdirSync(inRepository('test-output'), { recursive: true });
  const file = inRepository('test-output', `${name}.json`);
  // An old report must not stand in for a run that never got as far as writing one.
  rmSync(file, { force: true });
  return file;
}

function readReport<Report>(file: string): Report | undefined {
  return existsSync(file) ? (JSON.parse(readFileSync(file, 'utf8')) as Report) : undefined;
}

const NOTHING: Counts = { passed: 0, failed: 0 };

const vitest = (project: string, what: string): Stage => ({
  name: project,
  what,
  run: async () => {
    const file = freshReport(project);
    const exitCode = await runProgram([programOf('vitest'), 'run', '--project', project, '--reporter=default', '--reporter=json', `--outputFile.json=${file}`]);
    const report = readReport<VitestReport>(file);
    return strict(report === undefined ? NOTHING : countVitest(report), exitCode);
  },
});

const browser: Stage = {
  name: 'browser',
  what: 'browser tests of the whole service',
  run: async () => {
    const file = freshReport('browser');
    const exitCode = await runProgram([programOf('@playwright/test', 'playwright'), 'test'], inRepository(), { CHROMIUM_PATH: findChromium() });
    const report = readReport<PlaywrightReport>(file);
    return strict(report === undefined ? NOTHING : countPlaywright(report), exitCode);
  },
};

/** The stages of `npm test`, in the order they run: the quick ones first. */
export const STAGES: Stage[] = [
  tool('lint', 'style and mistakes (eslint)', () => [programOf('eslint'), '.', '--max-warnings=0']),
  tool('types', 'types (tsc)', () => [programOf('typescript', 'tsc'), '-p', '.']),
  tool(
    'pages',
    'types and accessibility of the pages (svelte-check)',
    () => [programOf('svelte-check'), '--fail-on-warnings', '--output', 'human'],
    join('apps', 'web'),
  ),
  tool('architecture', 'who may import whom (dependency-cruiser)', () => [
    programOf('dependency-cruiser', 'depcruise'),
    '--config',
    '.dependency-cruiser.cjs',
    '--output-type',
    'err',
    'apps',
    'packages',
    'infra',
    'tests',
  ]),
  tool('unused', 'files, exports and packages nobody uses (knip)', () => [programOf('knip'), '--no-progress', '--no-config-hints']),
  vitest('unit', 'unit tests'),
  vitest('int', 'integration tests with PostgreSQL'),
  browser,
];
