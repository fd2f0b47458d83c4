import { afterEach, expect, test, vi } from 'vitest';
import { newId } from './id.ts';

afterEach(() => vi.useRealTimers());

test('carries the time of the example in RFC 9562, appendix A.6, in its first 48 bits', () => {
  vi.useFakeTimers({ now: 1645557742000 });
  expect(newId()).toMatch(/^017f22e2-79b0-7/);
});

test('has version 7 and the variant of RFC 9562, 4.1', () => {
  for (let i = 0; i < 200; i += 1) expect(newId()).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
});

test('two made in the same millisecond differ', () => {
  vi.useFakeTimers({ now: 1645557742000 });
  expect(new Set(Array.from({ length: 1000 }, newId)).size).toBe(1000);
});
