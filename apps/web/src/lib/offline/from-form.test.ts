import { expect, test } from 'vitest';
import { deedOf } from './from-form.ts';

const at = (path: string) => new URL(path, 'https://studio.example');
const form = (fields: Record<string, string>) => {
  const data = new FormData();
  for (const [name, value] of Object.entries(fields)) data.set(name, value);
  return data;
};

test('the form of each act that can wait becomes that act, under the form’s own id', () => {
  const card = { id: 'i', cardId: 'c' };
  expect(deedOf(at('/station/step/3?/reading'), form({ ...card, entered: '141', supersedesId: '' }))).toEqual({
    id: 'i',
    deed: { kind: 'reading', cardId: 'c', stepNo: 3, entered: '141', supersedesId: null },
  });
  expect(deedOf(at('/station/step/3?/done'), form(card))?.deed).toEqual({ kind: 'done', cardId: 'c', stepNo: 3 });
  expect(deedOf(at('/station/step/9?/jar'), form({ ...card, mass: '900' }))?.deed).toEqual({ kind: 'jar', cardId: 'c', stepNo: 9, mass: '900' });
  expect(deedOf(at('/station?/confirm'), form({ id: 'i', itemKey: 'gloves' }))?.deed).toEqual({ kind: 'gear', itemKey: 'gloves' });
  expect(deedOf(at('/station/stop'), form({ id: 'i', reason: 'smoke' }))?.deed).toEqual({ kind: 'stop', reason: 'smoke' });
  expect(deedOf(at('/station/note'), form({ id: 'i', kind: 'near miss', what: 'slip' }))?.deed).toMatchObject({
    kind: 'note',
    told: { what: 'slip', place: '' },
  });
});

test('leaving the station cannot wait, and a form without an id or a card is no act', () => {
  expect(deedOf(at('/station/finish'), form({ id: 'i' }))).toBeNull();
  expect(deedOf(at('/station/step/3?/done'), form({ cardId: 'c' }))).toBeNull();
  expect(deedOf(at('/station/step/3?/done'), form({ id: 'i' }))).toBeNull();
});
