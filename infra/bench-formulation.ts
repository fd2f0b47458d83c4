import { spawn } from 'node:child_process';
import { inRepository } from './paths.ts';

// A process of its own, so that the timings are not those of this launcher.
const bench = spawn(process.execPath, [inRepository('tests', 'bench', 'formulation.ts'), ...process.argv.slice(2)], { cwd: inRepository(), stdio: 'inherit' });
bench.once('exit', (code) => (process.exitCode = code ?? 1));
