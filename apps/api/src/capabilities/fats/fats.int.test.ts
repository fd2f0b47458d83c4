import type { FatOut, Fats, RecipeDraft } from '@ashwater/contracts';
import { ownFatKey } from '@ashwater/contracts';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { ok } from '../../testing/classroom.ts';
import { soundDraft } from '../../testing/drafts.ts';
import { expectRefused } from '../../testing/refusals.ts';
import { studioOn, testStudio } from '../../testing/test-studio.ts';
import type { TestStudio } from '../../testing/test-studio.ts';

let studio: TestStudio;
beforeAll(async () => {
  studio = await testStudio();
});
afterAll(() => studio.close());

const bodyOf = (name: string, change: object = {}) => ({
  id: newId(),
  name,
  botanicalName: 'Limnanthes alba',
  svLow: '184',
  svHigh: '196',
  iodineLow: '',
  iodineHigh: '',
  densityGPerMl: '0.91',
  unsaponifiablePercent: '',
  source: 'Data sheet',
  sourceOn: '2025-11-02',
  ...change,
});
async function added(name: string, change: object = {}): Promise<string> {
  const body = bodyOf(name, change);
  await ok(studio.as.instructor.post('/api/fats', body));
  return body.id;
}
const listed = async (id: string): Promise<FatOut | undefined> => (await ok<Fats>(studio.as.assistant.get('/api/fats'))).fats.find((fat) => fat.id === id);
const withFat = (id: string, change: Partial<RecipeDraft['fats'][number]> = {}): RecipeDraft =>
  soundDraft({
    fats: [
      { fatKey: 'olive', sharePercent: '80' },
      { fatKey: ownFatKey(id), sharePercent: '20', ...change },
    ],
  });
async function written(draft: RecipeDraft): Promise<string> {
  const id = newId();
  await ok(studio.as.instructor.post('/api/recipes', { id, draft }));
  return id;
}
const draftOf = async (path: string) => (await ok<{ draft: RecipeDraft }>(studio.as.assistant.get(path))).draft;
const retire = (id: string) => studio.as.owner.post(`/api/fats/${id}/retire`, {});

test('a fat stands in the list as written, with who wrote it and in which recipes it is', async () => {
  const id = await added('Meadowfoam, lot 12');
  const recipeId = await written(withFat(id));
  expect(await listed(id)).toMatchObject({
    name: 'Meadowfoam, lot 12',
    saponificationValue: { low: 184, high: 196 },
    iodineValue: null,
    densityGPerMl: 0.91,
    source: 'Data sheet, 2025-11-02',
    addedBy: 'Ada instructor',
    retiredAt: null,
    usedBy: [{ id: recipeId, title: 'Plain olive bar' }],
  });
  const { rows } = await studio.admin.query('SELECT action FROM audit WHERE subject = $1', [`fat:${id}`]);
  expect(rows).toEqual([{ action: 'added a fat' }]);
});

test('a name stands once, whatever its case, also after its fat was retired', async () => {
  const id = await added('Kokum butter');
  await expectRefused(studio.admin, () => studio.as.owner.post('/api/fats', bodyOf('KOKUM butter')), { status: 422, code: 'input-refused', pointer: '/name' });
  await ok(retire(id));
  await expectRefused(studio.admin, () => studio.as.owner.post('/api/fats', bodyOf('Kokum butter')), {
    status: 422,
    code: 'input-refused',
    pointer: '/name',
    says: /retired/,
  });
});

test('what was sent as the figures of a fat counts for nothing: the service fills them in', async () => {
  const id = await added('Sal butter');
  const own = {
    id,
    name: 'Forged',
    botanicalName: '',
    saponificationValue: { low: 300, high: 310 },
    iodineValue: null,
    densityGPerMl: null,
    unsaponifiablePercent: null,
    source: 'nobody',
  };
  const recipeId = await written(withFat(id, { own }));
  expect((await draftOf(`/api/recipes/${recipeId}`)).fats[1]!.own).toMatchObject({ name: 'Sal butter', saponificationValue: { low: 184, high: 196 } });
  const plain = await written(soundDraft({ fats: [{ fatKey: 'olive', sharePercent: '100', own }] }));
  expect((await draftOf(`/api/recipes/${plain}`)).fats[0]!.own).toBeUndefined();
});

test('a fat of nowhere, of another studio, or retired before is refused at its line, and nothing is written', async () => {
  const other = await studioOn(studio.app, { studioName: 'Other', domain: 'other.example' });
  const theirs = bodyOf('Their fat');
  await ok(other.as.owner.post('/api/fats', theirs));
  const old = await added('Old fat');
  await ok(retire(old));
  for (const [id, says] of [
    [newId(), /not in your list/],
    ['no uuid', /not in your list/],
    [theirs.id, /not in your list/],
    [old, /Old fat is retired/],
  ] as const)
    await expectRefused(studio.admin, () => studio.as.instructor.post('/api/recipes', { id: newId(), draft: withFat(id) }), {
      status: 422,
      code: 'input-refused',
      pointer: '/draft/fats/1/fatKey',
      says,
    });
  await expectRefused(studio.admin, () => other.as.owner.post(`/api/fats/${old}/retire`, {}), { status: 404, code: 'not-found' });
});

test('a retired fat stays in the recipes and versions that hold it, and they go on working', async () => {
  const id = await added('Shrinking supply');
  const recipeId = await written(withFat(id));
  const first = newId();
  await ok(studio.as.instructor.post(`/api/recipes/${recipeId}/versions`, { id: first, revision: 1 }));
  const before = await draftOf(`/api/recipe-versions/${first}`);
  expect(before.fats[1]!.own).toMatchObject({ id, name: 'Shrinking supply', saponificationValue: { low: 184, high: 196 } });
  await ok(retire(id));
  expect((await listed(id))!.retiredAt).not.toBeNull();
  expect(await draftOf(`/api/recipe-versions/${first}`)).toEqual(before);

  await ok(studio.as.instructor.put(`/api/recipes/${recipeId}`, { revision: 1, draft: { ...withFat(id), superfatPercent: '9' } }));
  const second = newId();
  await ok(studio.as.instructor.post(`/api/recipes/${recipeId}/versions`, { id: second, revision: 2 }));
  expect((await draftOf(`/api/recipe-versions/${second}`)).fats[1]!.own).toEqual(before.fats[1]!.own);
});

test('a second retiring changes nothing', async () => {
  const id = await added('Twice retired');
  await ok(retire(id));
  const { retiredAt } = (await listed(id))!;
  await ok(retire(id));
  expect((await listed(id))!.retiredAt).toBe(retiredAt);
  const { rows } = await studio.admin.query('SELECT action FROM audit WHERE subject = $1 ORDER BY seq', [`fat:${id}`]);
  expect(rows.map(({ action }) => action)).toEqual(['added a fat', 'retired a fat']);
});
