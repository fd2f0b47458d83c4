// Runs on Node 20 before anything is installed: no dependencies, no TypeScript.
import { spawn, spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = resolve(fileURLToPath(new URL('../..', import.meta.url)));
export const inRoot = (...parts) => join(root, ...parts);

// npm hands its own settings for this package down to its scripts; an npm started from here must not take them for its own.
export function cleanEnvironment(extra = {}) {
  const inherited = Object.entries(process.env).filter(
    ([name]) => !/^npm_(package|lifecycle|config_(local_prefix|prefix|workspaces?|include_workspace_root))/.test(name),
  );
  return { ...Object.fromEntries(inherited), ...extra };
}

/** Runs a program quietly; on failure throws with its output and `advice`. */
export async function runQuietly(name, command, args, { cwd = root, env = {}, advice = '' } = {}) {
  const startedAt = performance.now();
  const child = spawn(command, args, { cwd, env: cleanEnvironment(env), stdio: ['ignore', 'pipe', 'pipe'], shell: process.platform === 'win32' });
  let output = '';
  for (const stream of [child.stdout, child.stderr]) stream.on('data', (chunk) => (output += chunk));
  const failure = await new Promise((done) => {
    child.once('error', (error) => done(error.message));
    child.once('close', (code, signal) => done(code === 0 ? undefined : `ended with ${signal ?? code}`));
  });
  if (failure !== undefined) throw new Error(`${name} failed: ${failure}\n${output.trim().split('\n').slice(-40).join('\n')}${advice ? `\n${advice}` : ''}`);
  process.stdout.write(`  ${name.padEnd(46)} ${((performance.now() - startedAt) / 1000).toFixed(1).padStart(6)} s\n`);
}

const bundledNode = inRoot('node_modules', 'node', 'bin', process.platform === 'win32' ? 'node.exe' : 'node');

function majorOf(program) {
  if (!existsSync(program)) return 0;
  const { status, stdout } = spawnSync(program, ['--version'], { encoding: 'utf8' });
  return status === 0 ? Number(/^v(\d+)\./.exec(stdout)?.[1] ?? 0) : 0;
}

/** Node 24 or newer: the one from npm, else the one running this; undefined when neither is new enough. */
export function findNode() {
  if (majorOf(bundledNode) >= 24) return bundledNode;
  return Number(process.versions.node.split('.')[0]) >= 24 ? process.execPath : undefined;
}
