import { expect, test } from 'vitest';
import { newCode, newId, normalCode } from './ids.ts';

test('RFC 9562, appendix A.6: the timestamp 017F22E279B0 stands first, then version 7 and variant 10', () => {
  // The RFC's example is 017F22E2-79B0-7CC3-98C4-DC0C0C07398F; its last 74 bits are random.
  const id = newId(0x017f22e279b0);
  expect(id).toMatch(/^017f22e2-79b0-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
});

test('the largest timestamp of 48 bits fits; one more does not', () => {
  expect(newId(2 ** 48 - 1)).toMatch(/^ffffffff-ffff-7/);
  expect(() => newId(2 ** 48)).toThrow(RangeError);
});

test('ids sort by their time and do not repeat within it', () => {
  const times = [0, 1, 999, 1_700_000_000_000, 1_700_000_000_001, 2 ** 47];
  const ids = times.map((at) => newId(at));
  expect([...ids].sort()).toEqual(ids);
  expect(new Set(Array.from({ length: 5000 }, () => newId(1)))).toHaveLength(5000);
});

test('all 74 random bits vary', () => {
  const bits = (id: string) => BigInt(`0x${id.replaceAll('-', '')}`);
  let ones = 0n;
  let zeros = 0n;
  for (let n = 0; n < 300; n += 1) {
    ones |= bits(newId(0));
    zeros |= ~bits(newId(0)) & ((1n << 128n) - 1n);
  }
  const varying = (((1n << 12n) - 1n) << 64n) | ((1n << 62n) - 1n);
  expect(ones & zeros).toBe(varying);
});

test('a code holds only signs that look like no other, and is found again however it is typed', () => {
  const codes = Array.from({ length: 2000 }, () => newCode());
  expect(codes.filter((code) => !/^[ACDEFGHJKMNPQRTWXY34679]{6}$/.test(code))).toEqual([]);
  expect(new Set(codes.join(''))).toHaveLength(23);
  const [code] = codes as [string];
  expect(normalCode(` ${code.slice(0, 3).toLowerCase()}-${code.slice(3)} `)).toBe(code);
  expect(newCode(10)).toHaveLength(10);
});
