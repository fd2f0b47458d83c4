import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { draftOf, keepDraft } from './draft.ts';

class Storage {
  [name: string]: unknown;
  getItem(name: string) {
    return (this[name] as string | undefined) ?? null;
  }
  setItem(name: string, text: string) {
    this[name] = text;
  }
  removeItem(name: string) {
    delete this[name];
  }
}
beforeEach(() => vi.stubGlobal('sessionStorage', new Storage()));
afterEach(() => vi.unstubAllGlobals());

test('a half-typed number is there after a reload', () => {
  keepDraft('card:7:first', '12');
  expect(draftOf('card:7:first')).toBe('12');
});

test('the number of another step is forgotten, and so is an emptied one', () => {
  keepDraft('card:7:first', '12');
  keepDraft('card:8:first', '3');
  expect(draftOf('card:7:first')).toBe('');
  keepDraft('card:8:first', '');
  expect(draftOf('card:8:first')).toBe('');
  expect(Object.keys(sessionStorage)).toEqual([]);
});

test('a browser that forbids storage is no fault', () => {
  vi.stubGlobal('sessionStorage', undefined);
  expect(() => keepDraft('x', '1')).not.toThrow();
  expect(draftOf('x')).toBe('');
});
