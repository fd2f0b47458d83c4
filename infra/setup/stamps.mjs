import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { inRoot, root } from './process.mjs';

// Inside node_modules, so that removing that folder makes every step run again.
const stampFolder = inRoot('node_modules', '.ashwater');
const LEFT_OUT = new Set(['node_modules', 'build', '.svelte-kit', 'generated', 'coverage']);

/** One hash over the names and contents of files and folders; what is missing counts as missing. */
export function hashOf(paths) {
  const hash = createHash('sha256');
  for (const path of paths) addTo(hash, path);
  return hash.digest('hex');
}

function addTo(hash, path) {
  if (!existsSync(path)) return;
  const entries = listFiles(path).sort();
  for (const file of entries)
    hash
      .update(`${relative(root, file)}\0`)
      .update(readFileSync(file))
      .update('\0');
}

function listFiles(path) {
  let entries;
  try {
    entries = readdirSync(path, { withFileTypes: true });
  } catch {
    return [path];
  }
  return entries.flatMap((entry) => {
    if (LEFT_OUT.has(entry.name) || /\.test\.ts$/.test(entry.name)) return [];
    const inner = join(path, entry.name);
    return entry.isDirectory() ? listFiles(inner) : entry.isFile() ? [inner] : [];
  });
}

/** True when the step was done for exactly this hash. */
export function isDone(step, hash) {
  const file = join(stampFolder, step);
  return existsSync(file) && readFileSync(file, 'utf8') === hash;
}

/** Remembers that the step is done for this hash. */
export function markDone(step, hash) {
  mkdirSync(stampFolder, { recursive: true });
  writeFileSync(join(stampFolder, step), hash);
}
