import { chmodSync, existsSync, readFileSync, readdirSync, rmSync, symlinkSync } from 'node:fs';
import { findNode, inRoot, runQuietly } from './process.mjs';
import { hashOf, isDone, markDone } from './stamps.mjs';

const npm = process.platform === 'win32' ? 'npm.cmd' : 'npm';
const OFFLINE_ADVICE =
  'This step needs the npm registry. Check the network or the proxy settings of npm (npm config get registry), then run the same command again.';

/** Installs what package-lock.json names, unless exactly that is installed already. */
export async function ensurePackages() {
  const manifests = ['apps', 'packages'].flatMap((folder) =>
    existsSync(inRoot(folder)) ? readdirSync(inRoot(folder)).map((name) => inRoot(folder, name, 'package.json')) : [],
  );
  const hash = hashOf([inRoot('package-lock.json'), inRoot('package.json'), ...manifests]);
  if (isDone('packages', hash)) return;
  if (!installedMatchesLock()) {
    // Install scripts of packages stay off: none is needed, and they would run with the rights of whoever starts this.
    await runQuietly('Packages (npm ci)', npm, ['ci', '--ignore-scripts', '--no-audit', '--no-fund'], { advice: OFFLINE_ADVICE });
  }
  markDone('packages', hash);
}

function installedMatchesLock() {
  const installedFile = inRoot('node_modules', '.package-lock.json');
  if (!existsSync(installedFile)) return false;
  const wanted = JSON.parse(readFileSync(inRoot('package-lock.json'), 'utf8')).packages;
  const installed = JSON.parse(readFileSync(installedFile, 'utf8')).packages;
  const sameVersions = Object.entries(installed).every(([path, entry]) => wanted[path] === undefined || wanted[path].version === entry.version);
  const complete = Object.entries(wanted).every(
    ([path, entry]) => !path.startsWith('node_modules/') || entry.optional || entry.peer || installed[path] !== undefined,
  );
  return sameVersions && complete;
}

/** Makes sure Node 24 is there: the npm package `node` fetches its program in an install script, which was off. */
export async function ensureNode() {
  const advice = `${OFFLINE_ADVICE}\nOr install Node 24 yourself (https://nodejs.org) and run the same command with it.`;
  if (findNode() === undefined && existsSync(inRoot('node_modules', 'node'))) {
    await runQuietly('Node 24', process.execPath, ['installArchSpecificPackage'], { cwd: inRoot('node_modules', 'node'), advice });
  }
  const node = findNode();
  linkNode();
  if (node === undefined) throw new Error(`Node 24 is needed and could not be set up for ${process.platform}-${process.arch}.\n${advice}`);
  return node;
}

// npm links no program that is not there yet. With the link, npm scripts and npx run on this Node too.
function linkNode() {
  const link = inRoot('node_modules', '.bin', 'node');
  const program = inRoot('node_modules', 'node', 'bin', 'node');
  if (process.platform === 'win32' || existsSync(link) || !existsSync(program)) return;
  chmodSync(program, 0o755);
  rmSync(link, { force: true });
  symlinkSync('../node/bin/node', link);
}
