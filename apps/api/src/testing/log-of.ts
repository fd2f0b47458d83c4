import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import { fileURLToPath } from 'node:url';
import type { InjectOptions } from 'fastify';

const APP = fileURLToPath(new URL('../app.ts', import.meta.url));
const CONFIG = fileURLToPath(new URL('../config.ts', import.meta.url));
const SCRIPT = `
  const { buildApp } = await import(process.env.APP_FILE);
  const { readConfig } = await import(process.env.CONFIG_FILE);
  const app = await buildApp(readConfig({ DATABASE_APP_URL: process.env.APP_URL, LOG_LEVEL: 'debug' }));
  const statuses = [];
  for (const asked of JSON.parse(process.env.REQUESTS)) statuses.push((await app.inject(asked)).statusCode);
  await app.close();
  process.stderr.write(JSON.stringify(statuses));`;

/** What a service of its own, in a process of its own, writes to its log at its most talkative while it answers `requests`; and how it answered. */
export async function logOf(appUrl: string, requests: InjectOptions[]): Promise<{ log: string; statuses: number[] }> {
  const { stdout, stderr } = await promisify(execFile)(process.execPath, ['--input-type=module', '-e', SCRIPT], {
    env: { ...process.env, APP_FILE: APP, CONFIG_FILE: CONFIG, APP_URL: appUrl, REQUESTS: JSON.stringify(requests) },
  });
  return { log: stdout, statuses: JSON.parse(stderr) as number[] };
}
