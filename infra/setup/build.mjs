import { existsSync, readFileSync } from 'node:fs';
import { inRoot, runQuietly } from './process.mjs';
import { hashOf, isDone, markDone } from './stamps.mjs';

/** Absolute path of a package's program, to be run with our own Node. */
function programOf(name, bin) {
  const manifest = JSON.parse(readFileSync(inRoot('node_modules', name, 'package.json'), 'utf8'));
  return inRoot('node_modules', name, typeof manifest.bin === 'string' ? manifest.bin : manifest.bin[bin]);
}

/** Generates the database client when the schema changed. */
export async function ensurePrismaClient(node) {
  const hash = hashOf([inRoot('prisma', 'schema.prisma'), inRoot('prisma.config.ts'), inRoot('node_modules', 'prisma', 'package.json')]);
  if (isDone('prisma', hash) && existsSync(inRoot('prisma', 'generated', 'client.ts'))) return;
  // Prisma would fetch an engine from the internet that `generate` never runs: any program in its place will do.
  const env = { PRISMA_SCHEMA_ENGINE_BINARY: node, PRISMA_HIDE_UPDATE_MESSAGE: '1', CHECKPOINT_DISABLE: '1' };
  await runQuietly('Database client (prisma generate)', node, [programOf('prisma', 'prisma'), 'generate'], { env });
  markDone('prisma', hash);
}

const webExists = () => existsSync(inRoot('apps', 'web', 'vite.config.ts'));

/** Writes the types of SvelteKit's routes; npm removes part of them at every install. */
export async function ensureWebTypes(node) {
  const hash = hashOf([inRoot('apps', 'web')]);
  const present =
    existsSync(inRoot('apps', 'web', '.svelte-kit')) &&
    [inRoot('node_modules', '$app'), inRoot('apps', 'web', 'node_modules', '$app')].some((path) => existsSync(path));
  if (!webExists() || (isDone('web-types', hash) && present)) return;
  await runQuietly('Types of the pages (svelte-kit sync)', node, [programOf('@sveltejs/kit', 'svelte-kit'), 'sync'], { cwd: inRoot('apps', 'web') });
  markDone('web-types', hash);
}

/** Builds the pages when their sources, or those of the shared packages, changed. */
export async function ensureWebBuild(node) {
  const hash = hashOf([inRoot('apps', 'web'), inRoot('packages'), inRoot('package-lock.json')]);
  if (!webExists() || (isDone('web-build', hash) && existsSync(inRoot('apps', 'web', 'build', 'handler.js')))) return;
  await runQuietly('Pages (vite build)', node, [programOf('vite', 'vite'), 'build'], { cwd: inRoot('apps', 'web'), env: { NODE_ENV: 'production' } });
  markDone('web-build', hash);
}
