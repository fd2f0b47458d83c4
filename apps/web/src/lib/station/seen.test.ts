import { expect, test } from 'vitest';
import { unread } from './seen.ts';

const MESSAGES = [{ seq: 12 }, { seq: 9 }, { seq: 4 }];

test('a message stays until it, or a later one, was put away on this device', () => {
  expect(unread(MESSAGES, undefined)).toEqual(MESSAGES);
  expect(unread(MESSAGES, '9')).toEqual([{ seq: 12 }]);
  expect(unread(MESSAGES, '12')).toEqual([]);
});

test('a cookie that is no number hides nothing', () => {
  for (const seen of ['', 'x', '-1', '1e9', '99999999999999999999']) expect(unread(MESSAGES, seen)).toEqual(MESSAGES);
});
