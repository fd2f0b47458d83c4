import { gzipSync } from 'node:zlib';
import { rolldown } from 'rolldown';

/** The whole formulation package as one file for the browser, minified; bytes as they are and as sent (gzip, level 9). */
export async function sizeInBrowser(): Promise<{ bytes: number; gzipBytes: number }> {
  const bundle = await rolldown({ input: `${import.meta.dirname}/../../packages/formulation/src/index.ts`, platform: 'browser' });
  const { output } = await bundle.generate({ format: 'es', minify: true });
  const code = output.map((part) => (part.type === 'chunk' ? part.code : '')).join('');
  return { bytes: Buffer.byteLength(code), gzipBytes: gzipSync(code, { level: 9 }).length };
}
