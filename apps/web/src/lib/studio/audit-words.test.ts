import { expect, test } from 'vitest';
import { subjectInWords } from './audit-words.ts';

test('the subject of an audit line is told by its kind and the end of its id', () => {
  expect(subjectInWords('checkout:01930000-0000-7000-8000-0000001a2b3c')).toEqual({ kind: 'hand-out', id: '1a2b3c' });
  expect(subjectInWords('something')).toEqual({ kind: 'something', id: '' });
});
