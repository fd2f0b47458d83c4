import { readFile, readdir } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { bindMigrationAwareSqlAdapterFactory } from '@prisma/driver-adapter-utils';
import * as engineModule from '@prisma/schema-engine-wasm/schema_engine_bg';
import type { MigrationList, SchemaEngine } from '@prisma/schema-engine-wasm/schema_engine_bg';
import { inRepository } from '../paths.ts';
import { migrationAdapter } from './adapter.ts';

let loaded: Promise<void> | undefined;

// The package imports its .wasm file as an ES module, which Node does only behind a flag or with a warning.
async function loadEngine(): Promise<void> {
  const packaged = createRequire(import.meta.url).resolve('@prisma/schema-engine-wasm');
  const { instance } = await WebAssembly.instantiate(await readFile(join(dirname(packaged), 'schema_engine_bg.wasm')), {
    './schema_engine_bg.js': engineImports(),
  });
  engineModule.__wbg_set_wasm(instance.exports);
  const start = instance.exports.__wbindgen_start;
  if (typeof start !== 'function') throw new Error('The migration engine has no start function.');
  start();
}

// The engine gives its lock a time limit of ten seconds and leaves that timer running: it must not keep Node alive.
function engineImports(): WebAssembly.ModuleImports {
  const imports: WebAssembly.ModuleImports = { ...engineModule };
  for (const name of Object.keys(imports).filter((key) => key.startsWith('__wbg_setTimeout_'))) {
    imports[name] = (callback: () => void, milliseconds: number) => setTimeout(callback, milliseconds >>> 0).unref();
  }
  return imports;
}

/** The folder of the Prisma schema, as the engine wants it: absolute path and content of each file. */
export async function schemaFiles(): Promise<{ path: string; content: string }[]> {
  const path = inRepository('prisma', 'schema.prisma');
  return [{ path, content: await readFile(path, 'utf8') }];
}

/** Every folder of prisma/migrations with its SQL, in the order of their names. */
export async function migrationList(baseDir = inRepository('prisma', 'migrations')): Promise<MigrationList> {
  const entries = await readdir(baseDir, { withFileTypes: true });
  const names = entries
    .filter((entry) => entry.isDirectory())
    .map((entry) => entry.name)
    .sort();
  const content = await readFile(join(baseDir, 'migration_lock.toml'), 'utf8');
  const migrationDirectories = await Promise.all(
    names.map(async (name) => {
      const value = await readFile(join(baseDir, name, 'migration.sql'), 'utf8');
      return { path: name, migrationFile: { path: 'migration.sql', content: { tag: 'ok' as const, value } } };
    }),
  );
  return { baseDir, lockfile: { path: 'migration_lock.toml', content }, shadowDbInitScript: '', migrationDirectories };
}

/**
 * Runs `work` with the migration engine connected to a database.
 * @param adminUrl connection URL of the role that owns the tables
 */
export async function withEngine<T>(adminUrl: string, work: (engine: SchemaEngine) => Promise<T>): Promise<T> {
  await (loaded ??= loadEngine());
  const adapter = migrationAdapter(adminUrl);
  const datamodels = (await schemaFiles()).map((file): [string, string] => [file.path, file.content]);
  const factory = bindMigrationAwareSqlAdapterFactory(adapter.factory);
  const engine = await engineModule.SchemaEngine.new({ datamodels }, () => undefined, factory);
  try {
    return await work(engine);
  } finally {
    engine.free();
    await adapter.end();
  }
}
