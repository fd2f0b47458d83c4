import { expect, test } from 'vitest';
import { formId, refuse, refuseField, text, typedValues } from './forms.ts';

const ID = '0198d000-0000-7000-8000-000000000001';
function form(fields: Record<string, string>): FormData {
  const data = new FormData();
  for (const [name, value] of Object.entries(fields)) data.set(name, value);
  return data;
}
const problem = {
  code: 'input-refused',
  title: 'Something needs another look',
  detail: 'One thing.',
  status: 422,
  errors: [
    { pointer: '/draft/fats/0/sharePercent', detail: 'Enter a number.' },
    { pointer: '/draft/fats/0/sharePercent', detail: 'And another fault of the same field.' },
  ],
};

test('a fault stands beside the field whose name is its pointer; the first one wins', () => {
  const refused = refuse({ ok: false, problem, unsure: false }, form({ id: ID, 'draft/fats/0/sharePercent': 'many' }));
  expect(refused.status).toBe(422);
  expect(refused.data.errors).toEqual({ 'draft/fats/0/sharePercent': 'Enter a number.' });
  expect(refused.data.values).toEqual({ 'draft/fats/0/sharePercent': 'many' });
});

test('after a refusal the form gets another id, since its content will change', () => {
  expect(refuse({ ok: false, problem, unsure: false }, form({ id: ID })).data.id).not.toBe(ID);
});

test('after an unsure answer the id stays, so that sending again cannot act twice', () => {
  expect(refuse({ ok: false, problem: { ...problem, status: 503 }, unsure: true }, form({ id: ID })).data.id).toBe(ID);
});

test('a password never travels back', () => {
  expect(typedValues(form({ email: 'a@example.org', password: 'calm kettle on the hill', id: ID }))).toEqual({ email: 'a@example.org' });
});

test('a missing field is blank, and a missing id is made', () => {
  expect(text(form({}), 'name')).toBe('');
  expect(formId(form({}))).toMatch(/-7[0-9a-f]{3}-/);
  expect(formId(form({ id: ID }))).toBe(ID);
});

test('a fault found by the page itself looks like one of the API', () => {
  expect(refuseField(form({ code: 'AB' }), 'code', 'Too short.').data).toMatchObject({ values: { code: 'AB' }, errors: { code: 'Too short.' } });
});
