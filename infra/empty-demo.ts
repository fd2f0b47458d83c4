import { createInterface } from 'node:readline/promises';
import { defaultDataDir } from './data-dir.ts';
import { openDatabase } from './database.ts';
import { emptyDemo } from './empty-demo/empty-demo.ts';
import { say } from './start/say.ts';
import { stopLeftOverServer } from './start/server-process.ts';

async function confirmed(place: string): Promise<boolean> {
  if (process.argv.includes('--yes')) return true;
  if (!process.stdin.isTTY) {
    say('Nothing was changed: this needs a yes. Add  -- --yes  when no one can be asked.');
    return false;
  }
  const terminal = createInterface({ input: process.stdin, output: process.stdout });
  const answer = await terminal.question(`Remove the demo studio and everything recorded in it from ${place}? Type yes: `);
  terminal.close();
  return answer.trim().toLowerCase() === 'yes';
}

async function run(): Promise<number> {
  const dataDir = defaultDataDir();
  const givenAppUrl = process.env.DATABASE_APP_URL || undefined;
  const database = await openDatabase({ dataDir, databaseUrl: process.env.DATABASE_URL, appUrl: givenAppUrl });
  try {
    await stopLeftOverServer(dataDir);
    if (!(await confirmed(database.place))) return 1;
    await emptyDemo(database.adminUrl, { dataDir, appUrl: givenAppUrl });
    say('The demo studio is gone; the database is empty.');
    say('Next:  npm start   prints a set-up code, with which you make your own studio.');
    return 0;
  } finally {
    await database.stop();
  }
}

try {
  process.exitCode = await run();
} catch (error) {
  process.stderr.write(`Not done. ${error instanceof Error ? error.message : String(error)}\n`);
  process.exitCode = 1;
}
