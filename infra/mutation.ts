import { spawn } from 'node:child_process';
import { inRepository } from './paths.ts';

/** The mutation tests of the formulation package; further words go to stryker, e.g. `npm run mutation -- --mutate packages/formulation/src/bar.ts`. */
const program = inRepository('node_modules', '@stryker-mutator', 'core', 'bin', 'stryker.js');
const stryker = spawn(process.execPath, [program, 'run', ...process.argv.slice(2)], { cwd: inRepository(), stdio: 'inherit' });
stryker.once('exit', (code) => (process.exitCode = code ?? 1));
