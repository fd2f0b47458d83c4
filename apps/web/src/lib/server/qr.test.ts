import { expect, test } from 'vitest';
import { qrCode } from './qr.ts';

/** The dark modules of the path, by "x,y". */
function darkModules(path: string): Set<string> {
  return new Set([...path.matchAll(/M(\d+) (\d+)h1v1h-1z/g)].map(([, x, y]) => `${x},${y}`));
}
const QUIET = 4;

test('a short text makes version 1: 21 modules and a quiet zone of 4 on each side (ISO/IEC 18004)', () => {
  const code = qrCode('JAR 31');
  expect(code.size).toBe(21 + 2 * QUIET);
  for (const module of darkModules(code.path)) for (const at of module.split(',').map(Number)) expect(at >= QUIET && at < code.size - QUIET).toBe(true);
});

test('three corners hold a finder pattern: dark and light 1:1:3:1:1 through its middle (ISO/IEC 18004)', () => {
  const { size, path } = qrCode('https://studio.example/studio/jars?number=J-31');
  const dark = darkModules(path);
  const far = size - QUIET - 7;
  for (const [left, top] of [
    [QUIET, QUIET],
    [far, QUIET],
    [QUIET, far],
  ] as const) {
    const middle = Array.from({ length: 7 }, (_, i) => (dark.has(`${left + i},${top + 3}`) ? '1' : '0')).join('');
    expect(middle).toBe('1011101');
  }
});
