import { expect, test } from 'vitest';
import { forgetDraft } from './keep-draft.ts';

test('a browser without storage has no draft to forget', () => {
  expect(() => forgetDraft('note', null)).not.toThrow();
});

test('what is forgotten is the draft of that name alone', () => {
  const kept = new Map([
    ['draft:note:a', '{}'],
    ['draft:note:b', '{}'],
  ]);
  forgetDraft('note:a', {
    getItem: (key) => kept.get(key) ?? null,
    setItem: (key, value) => void kept.set(key, value),
    removeItem: (key) => void kept.delete(key),
  });
  expect([...kept.keys()]).toEqual(['draft:note:b']);
});
