// The first file of every command. It must run on Node 20 with nothing installed; the rest runs on Node 24 from npm.
import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';

const [command = 'start', ...args] = process.argv.slice(2);

// Says what to do on a Node too old even to read the files below: they are imported only after this check.
if (Number(process.versions.node.split('.')[0]) < 20) {
  process.stderr.write(`Node 20 or newer is needed to set things up; this is ${process.version}. See https://nodejs.org\n`);
  process.exit(1);
}

const { cleanEnvironment, inRoot, root } = await import('./setup/process.mjs');
const { ensureNode, ensurePackages } = await import('./setup/packages.mjs');
const { ensurePrismaClient, ensureWebBuild, ensureWebTypes } = await import('./setup/build.mjs');

/** Commands that need packages and Node 24, but neither database nor pages. */
const PACKAGES_ARE_ENOUGH = new Set(['bench-formulation', 'mutation']);

async function setUp() {
  await ensurePackages();
  const node = await ensureNode();
  if (PACKAGES_ARE_ENOUGH.has(command)) return node;
  await ensurePrismaClient(node);
  await ensureWebTypes(node);
  await ensureWebBuild(node);
  return node;
}

function handOver(node) {
  const entry = inRoot('infra', `${command}.ts`);
  if (!existsSync(entry)) throw new Error(`There is no command "${command}".`);
  // .bin first on PATH, so that whatever is started below also gets Node 24.
  const path = `${inRoot('node_modules', '.bin')}${process.platform === 'win32' ? ';' : ':'}${process.env.PATH ?? ''}`;
  const child = spawn(node, [entry, ...args], { cwd: root, stdio: 'inherit', env: cleanEnvironment({ PATH: path }) });
  // The terminal sends Ctrl-C to both of us; the child decides when to end, and we end with it.
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.on(signal, () => child.kill(signal));
  // A SIGTERM to npm ends npm and its shell, but not us: then stop in good order instead of running on unseen.
  const parent = process.ppid;
  if (process.env.npm_lifecycle_event) setInterval(() => process.ppid !== parent && child.kill('SIGTERM'), 1000).unref();
  child.once('exit', (code, signal) => process.exit(code ?? (signal === null ? 1 : 128)));
}

try {
  handOver(await setUp());
} catch (error) {
  process.stderr.write(`\n${error.message}\n`);
  process.exit(1);
}
