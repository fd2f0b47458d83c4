import { Created } from '@ashwater/contracts';
import { expect, test } from 'vitest';
import { derivedId } from './derived-id.ts';

test('the same form makes the same id, another form or another line another one, and all are ids the service takes', () => {
  const form = '0197a3d0-0000-7000-8000-000000000001';
  expect(derivedId(form, 'r2')).toBe(derivedId(form, 'r2'));
  const ids = Array.from({ length: 200 }, (_, n) => derivedId(form, `r${n}`));
  expect(new Set([...ids, derivedId(form.replace(/1$/, '2'), 'r2')]).size).toBe(201);
  for (const id of ids) expect(Created.safeParse({ id }).success, id).toBe(true);
});
