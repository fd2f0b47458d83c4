// npm runs this after an install. npm has just removed the types SvelteKit keeps in node_modules: write them again.
// It never fails an install: every command of this project checks its own set-up again (infra/bootstrap.mjs).
import { existsSync } from 'node:fs';
import { ensureWebTypes } from './setup/build.mjs';
import { findNode, inRoot } from './setup/process.mjs';

const node = findNode();
if (node !== undefined && existsSync(inRoot('node_modules', '@sveltejs', 'kit'))) {
  await ensureWebTypes(node).catch((error) => process.stderr.write(`${error.message}\n`));
}
