import { expect, test } from 'vitest';
import { ConfirmGear, FileNote, LabelJar, RecordReading, StopRoom } from '@ashwater/contracts';
import { newId } from '../id.ts';
import { requestOf } from './act.ts';
import type { Deed } from './act.ts';
import { toldIn } from './from-form.ts';
import { actOf } from './testing.ts';

const cardId = newId();
const classId = newId();
const ask = (deed: Deed) => {
  const id = newId();
  return { id, ...requestOf(actOf(1, deed, { id, classId })) };
};
const told = toldIn((name) => ({ kind: 'incident', what: 'A drop on the floor' })[name] ?? '');

test('every act asks for what the contract of its address takes, nothing more and nothing left out', () => {
  const asked = [
    [ask({ kind: 'reading', cardId, stepNo: 2, entered: '141,5', supersedesId: null }), `/api/cards/${cardId}/readings`, RecordReading],
    [ask({ kind: 'jar', cardId, stepNo: 5, mass: '900' }), '/api/jars', LabelJar],
    [ask({ kind: 'gear', itemKey: 'gloves' }), '/api/gear/confirm', ConfirmGear],
    [ask({ kind: 'note', told }), '/api/notes', FileNote],
    [ask({ kind: 'stop', reason: '' }), `/api/classes/${classId}/stop`, StopRoom],
  ] as const;
  for (const [{ path, body }, expected, schema] of asked) {
    expect(path).toBe(expected);
    expect(schema.parse(body)).toEqual(body);
  }
});

test('an act carries the id it was made with, so that the service knows a second try', () => {
  const { id, body } = ask({ kind: 'reading', cardId, stepNo: 2, entered: '141', supersedesId: null });
  expect(body).toMatchObject({ id });
});

test('a finished step sends no body: its id is the key alone', () => {
  expect(requestOf(actOf(1, { kind: 'done', cardId: 'c', stepNo: 7 }))).toEqual({ path: '/api/cards/c/steps/7/done', body: {} });
});
