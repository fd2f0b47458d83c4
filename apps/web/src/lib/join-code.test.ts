import { expect, test } from 'vitest';
import { CODE_LENGTH, tidyCode } from './join-code.ts';

test.each(['km4dt7', ' KM4-DT7 ', 'k m 4 d t 7', 'Km4dT7.'])('%j is read as KM4DT7', (typed) => {
  expect(tidyCode(typed)).toBe('KM4DT7');
  expect(tidyCode(typed)).toHaveLength(CODE_LENGTH);
});

test('what holds no sign is blank', () => {
  expect(tidyCode(' -- ')).toBe('');
});
