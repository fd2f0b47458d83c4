import { join } from 'node:path';
import { defaultDataDir } from './data-dir.ts';
import { openDatabase } from './database.ts';
import { migrate, prepareRoles } from './migrate.ts';
import { inRepository } from './paths.ts';
import { announce } from './start/announce.ts';
import { prepareFirstRun } from './start/first-run.ts';
import { say, step } from './start/say.ts';
import { startServerProcess, stopLeftOverServer } from './start/server-process.ts';
import { onStopRequest } from './start/stop-request.ts';
import { freeWebPort, wantedPort } from './start/web-port.ts';

const host = process.env.HOST || '127.0.0.1';
const dataDir = defaultDataDir();
const givenAppUrl = process.env.DATABASE_APP_URL || undefined;

async function launch(): Promise<number> {
  const stopRequested = onStopRequest();
  const wanted = wantedPort(process.env.PORT);
  const database = await step('Database', () => openDatabase({ dataDir, databaseUrl: process.env.DATABASE_URL, appUrl: givenAppUrl }));
  stopRequested.force = () => database.kill();
  try {
    if (await stopLeftOverServer(dataDir)) say('  A server left over from a killed start was stopped.');
    await step('Migrations', async () => {
      await migrate(database.adminUrl);
      await prepareRoles(database.adminUrl, { appUrl: givenAppUrl });
    });
    const firstRun = await step('Studio', () => prepareFirstRun(database, dataDir));
    if (stopRequested.asked) return 0;

    const port = await freeWebPort(host, wanted);
    if (port !== wanted) say(`  Port ${wanted} is taken by another program: using ${port} instead.`);
    const server = await step('Server', () =>
      startServerProcess({
        entry: serverEntry(),
        dataDir,
        readyUrl: `http://${readyHost()}:${port}/readyz`,
        env: serverEnvironment(database.appUrl, port, firstRun.setupCode),
      }),
    );
    stopRequested.force = () => {
      server.kill();
      database.kill();
    };
    announce({ ...firstRun, host, port, publicOrigin: process.env.PUBLIC_ORIGIN, dataDir, databasePlace: database.place });

    const ended = await Promise.race([server.ended, stopRequested.promise]);
    if (ended !== undefined) {
      say(`The server ended by itself (${ended}). Its log: ${dataDir}/server.log`);
      return 1;
    }
    say('\nStopping: server, then database. Ctrl-C again forces it.');
    await server.stop();
    return 0;
  } finally {
    await database.stop();
  }
}

// Another entry is for trying the launcher itself out, without the service.
const serverEntry = (): string => process.env.ASHWATER_SERVER_ENTRY || inRepository('apps', 'api', 'src', 'server.ts');

const readyHost = (): string => (host === '0.0.0.0' || host === '::' ? '127.0.0.1' : host.includes(':') ? `[${host}]` : host);

function serverEnvironment(appUrl: string, port: number, setupCode: string | undefined): NodeJS.ProcessEnv {
  const env: NodeJS.ProcessEnv = {
    ...process.env,
    NODE_ENV: 'production',
    DATABASE_APP_URL: appUrl,
    HOST: host,
    PORT: String(port),
    DATA_DIR: dataDir,
    WEB_HANDLER: inRepository('apps', 'web', 'build', 'handler.js'),
    // The operator may name a file on another disk, where whoever changes the database does not reach.
    ANCHOR_FILE: process.env.ANCHOR_FILE ?? join(dataDir, 'ledger-anchors.ndjson'),
  };
  // The owner's URL stays here: the server must not be able to change tables or pass row policies.
  delete env.DATABASE_URL;
  delete env.SETUP_CODE;
  if (setupCode !== undefined) env.SETUP_CODE = setupCode;
  return env;
}

try {
  process.exitCode = await launch();
} catch (error) {
  process.stderr.write(`\nAshwater did not start. ${error instanceof Error ? error.message : String(error)}\n`);
  process.exitCode = 1;
}
