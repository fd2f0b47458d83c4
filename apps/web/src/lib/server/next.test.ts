import { expect, test } from 'vitest';
import { safeNext } from './next.ts';

test.each(['/studio', '/studio/classes?day=2026-12-05', '/class/0198/cards'])('%s is kept', (path) => {
  expect(safeNext(path)).toBe(path);
});

// Open redirects as in OWASP's "Unvalidated Redirects and Forwards" cheat sheet; browsers read "\" in a path start as "/".
test.each(['//evil.example', '/\\evil.example', 'https://evil.example', 'javascript:alert(1)', '', '/a\nb', '/\tevil'])(
  '%j leads to the start page',
  (path) => {
    expect(safeNext(path)).toBe('/');
  },
);

test('none given leads to the start page', () => {
  expect(safeNext(null)).toBe('/');
});

test('whatever is let through stays on this origin', () => {
  const origin = 'https://studio.example';
  for (const path of ['/ok', '//x', '/\\x', '/./x', '/%2f%2fx', '/@x', '/:80']) expect(new URL(safeNext(path), origin).origin).toBe(origin);
});
