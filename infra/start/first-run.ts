import { randomInt } from 'node:crypto';
import { existsSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { withClient } from '../database/client.ts';
import { inRepository } from '../paths.ts';
import { readLaunchState } from './launch-state.ts';
import { say } from './say.ts';

/** A person of the demo studio, with the password to sign in. */
export interface DemoSignIn {
  email: string;
  password: string;
  role: string;
  name: string;
}

/** What the launcher must tell: the demo's sign-ins, or a one-time code for the first studio, or neither. */
export interface FirstRun {
  demoSignIns: DemoSignIn[];
  setupCode: string | undefined;
}

// Without 0/O, 1/I/L: the code is read from one screen and typed on another.
const CODE_LETTERS = '23456789ABCDEFGHJKMNPQRSTUVWXYZ';

/** A code such as 7KQM-2FWD-X9TP: 12 letters of 31, about 59 bits. */
export function makeSetupCode(): string {
  const letters = Array.from({ length: 12 }, () => CODE_LETTERS[randomInt(CODE_LETTERS.length)] ?? '');
  return [0, 4, 8].map((start) => letters.slice(start, start + 4).join('')).join('-');
}

/** How many studios the database holds, and how many of them are the demo. */
export async function countStudios(adminUrl: string): Promise<{ demo: number; real: number }> {
  return await withClient(adminUrl, async (client) => {
    // Row policies hold for the owner too; it sees every studio because the migration made it a member of ashwater_lookup.
    const { rows } = await client.query<{ demo: number; real: number }>(
      'select count(*) filter (where is_demo)::int as demo, count(*) filter (where not is_demo)::int as real from studio',
    );
    return rows[0] ?? { demo: 0, real: 0 };
  });
}

/** Fills an empty database with the demo studio, or makes a set-up code when the demo is not wanted. */
export async function prepareFirstRun(urls: { adminUrl: string; appUrl: string }, dataDir: string): Promise<FirstRun> {
  let studios = await countStudios(urls.adminUrl);
  if (studios.demo + studios.real === 0) {
    const seed = inRepository('apps', 'api', 'src', 'demo', 'seed.ts');
    if (!readLaunchState(dataDir).demo || !existsSync(seed)) return { demoSignIns: [], setupCode: makeSetupCode() };
    const { seedDemo } = (await import(pathToFileURL(seed).href)) as { seedDemo(options: { appUrl: string; log(line: string): void }): Promise<void> };
    await seedDemo({ appUrl: urls.appUrl, log: (line) => say(`    ${line}`) });
    studios = await countStudios(urls.adminUrl);
  }
  return { demoSignIns: studios.demo > 0 ? await readDemoSignIns() : [], setupCode: undefined };
}

async function readDemoSignIns(): Promise<DemoSignIn[]> {
  const file = inRepository('apps', 'api', 'src', 'demo', 'sign-ins.ts');
  if (!existsSync(file)) return [];
  const { DEMO_SIGN_INS } = (await import(pathToFileURL(file).href)) as { DEMO_SIGN_INS: DemoSignIn[] };
  return DEMO_SIGN_INS;
}
