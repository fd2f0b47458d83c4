import { existsSync } from 'node:fs';
import { spawnSync } from 'node:child_process';
import { chromium } from '@playwright/test';
import { inRepository } from '../paths.ts';
import { say } from '../start/say.ts';

// The shell without a window first: the same engine, and the browser tests take little more than half the processor's time with it.
const SYSTEM_PATHS = ['/usr/bin/chromium-headless-shell', '/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome', '/snap/bin/chromium'];

/**
 * Absolute path of a Chromium for the browser tests: the one named by CHROMIUM_PATH, the system's, Playwright's own;
 * if there is none, it is installed.
 * @throws Error saying what to do when there is none and none can be installed
 */
export function findChromium(): string {
  const named = process.env.CHROMIUM_PATH ?? '';
  if (named !== '') {
    if (existsSync(named)) return named;
    throw new Error(`CHROMIUM_PATH names ${named}, which does not exist.`);
  }
  const found = present();
  if (found !== undefined) return found;
  say('No Chromium found: installing one for the browser tests.');
  const installed = process.getuid?.() === 0 && installWithApt() ? present() : undefined;
  const own = installed ?? (installWithPlaywright() ? present() : undefined);
  if (own !== undefined) return own;
  throw new Error('The browser tests need Chromium, and it could not be installed. Install it yourself and set CHROMIUM_PATH to its program.');
}

function present(): string | undefined {
  return [...SYSTEM_PATHS, chromium.executablePath()].find((path) => existsSync(path));
}

function installWithApt(): boolean {
  if (!existsSync('/usr/bin/apt-get')) return false;
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  const run = (...args: string[]): boolean => spawnSync('apt-get', args, { env, stdio: ['ignore', 'ignore', 'inherit'] }).status === 0;
  const install = (name: string): boolean => run('install', '-y', '-qq', '--no-install-recommends', name);
  // Older Debians have the shell in no package of its own.
  return run('update', '-qq') && (install('chromium-headless-shell') || install('chromium'));
}

function installWithPlaywright(): boolean {
  return spawnSync(process.execPath, [inRepository('node_modules', 'playwright', 'cli.js'), 'install', 'chromium'], { stdio: 'inherit' }).status === 0;
}
