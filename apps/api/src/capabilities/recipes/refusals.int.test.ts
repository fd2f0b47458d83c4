import type { RecipeDraft } from '@ashwater/contracts';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { ok, publishedRecipe } from '../../testing/classroom.ts';
import { soundDraft } from '../../testing/drafts.ts';
import { expectRefused } from '../../testing/refusals.ts';
import { testStudio } from '../../testing/test-studio.ts';
import type { TestStudio } from '../../testing/test-studio.ts';

let studio: TestStudio;
beforeAll(async () => {
  studio = await testStudio();
});
afterAll(() => studio.close());

const olive = (sharePercent: string) => ({ fatKey: 'olive', sharePercent });
const coconut = (sharePercent: string) => ({ fatKey: 'coconut', sharePercent });
const BAD: [string, Partial<RecipeDraft>, string, RegExp][] = [
  ['fats that add up to 98', { fats: [olive('68'), coconut('30')] }, '/draft/fats', /98/],
  ['no fats', { fats: [] }, '/draft/fats', /fat/i],
  ['a blank share', { fats: [olive('70'), coconut('')] }, '/draft/fats/1/sharePercent', /blank/],
  ['a share of spaces', { fats: [olive('70'), coconut('  ')] }, '/draft/fats/1/sharePercent', /blank/],
  ['a negative share', { fats: [olive('130'), coconut('-30')] }, '/draft/fats/1/sharePercent', /negative/],
  ['a share above the whole', { fats: [olive('130'), coconut('0')] }, '/draft/fats/0/sharePercent', /100/],
  ['a share that reads two ways', { fats: [olive('1,234'), coconut('30')] }, '/draft/fats/0/sharePercent', /1\.234/],
  ['a share with an exponent', { fats: [olive('1e2')] }, '/draft/fats/0/sharePercent', /not a number/],
  ['an unknown fat', { fats: [{ fatKey: 'moonbeam', sharePercent: '100' }] }, '/draft/fats/0/fatKey', /\w+/],
  ['the same fat twice', { fats: [olive('50'), olive('50')] }, '/draft/fats/1/fatKey', /\w+/],
  ['a blank superfat', { superfatPercent: '' }, '/draft/superfatPercent', /blank/],
  ['a negative superfat', { superfatPercent: '-3' }, '/draft/superfatPercent', /negative/],
  ['a blank lye concentration', { lyeConcentrationPercent: '' }, '/draft/lyeConcentrationPercent', /blank/],
  // The CRC Handbook gives about 100 g NaOH in 100 g water at 25 C, 50 % by mass: 60 % cannot be made at the bench.
  ['a lye beyond what water dissolves', { lyeConcentrationPercent: '60' }, '/draft/lyeConcentrationPercent', /dissolve|solub/i],
  ['a blank ice share', { iceSharePercent: '' }, '/draft/iceSharePercent', /blank/],
  ['an additive without a name', { additives: [{ name: ' ', shareOfFatPercent: '2', limitPercent: '' }] }, '/draft/additives/0/name', /[Nn]ame/],
  ['a blank additive share', { additives: [{ name: 'Oats', shareOfFatPercent: '', limitPercent: '' }] }, '/draft/additives/0/shareOfFatPercent', /blank/],
  ['a title of nothing', { title: '   ' }, '/draft/title', /name/i],
];

test.each(BAD)('%s is refused at its field and nothing is written', async (_what, change, pointer, says) => {
  await expectRefused(studio.admin, () => studio.as.instructor.post('/api/recipes', { id: newId(), draft: soundDraft(change) }), {
    status: 422,
    code: 'input-refused',
    pointer,
    says,
  });
});

test('a bad draft is refused over a good one too, which stays as it was', async () => {
  const { recipeId } = await publishedRecipe(studio);
  const before = await ok(studio.as.owner.get(`/api/recipes/${recipeId}`));
  await expectRefused(studio.admin, () => studio.as.instructor.put(`/api/recipes/${recipeId}`, { revision: 1, draft: soundDraft({ superfatPercent: '' }) }), {
    status: 422,
    code: 'input-refused',
    pointer: '/draft/superfatPercent',
  });
  expect(await ok(studio.as.owner.get(`/api/recipes/${recipeId}`))).toEqual(before);
});

test('all faults come at once, each at its field', async () => {
  const problem = await expectRefused(
    studio.admin,
    () => studio.as.owner.post('/api/recipes', { id: newId(), draft: soundDraft({ superfatPercent: '', iceSharePercent: 'half', fats: [olive('')] }) }),
    { status: 422, code: 'input-refused' },
  );
  expect(problem.errors!.map((fault) => fault.pointer).sort()).toEqual(['/draft/fats/0/sharePercent', '/draft/iceSharePercent', '/draft/superfatPercent']);
});

test('a recipe whose oils can bring the superfat below zero is kept as a draft and never published', async () => {
  const id = newId();
  await ok(studio.as.instructor.post('/api/recipes', { id, draft: soundDraft({ superfatPercent: '0', superfatFloorPercent: '0' }) }));
  await expectRefused(studio.admin, () => studio.as.instructor.post(`/api/recipes/${id}/versions`, { id: newId(), revision: 1 }), {
    status: 422,
    code: 'input-refused',
    pointer: '/draft/superfatPercent',
    says: /free alkali/,
  });
  expect(await ok(studio.as.owner.get(`/api/recipes/${id}`))).toMatchObject({ versions: [], revision: 1 });
});

test('of two who save over the same revision one is told that it is stale; the same for publishing', async () => {
  const id = newId();
  await ok(studio.as.instructor.post('/api/recipes', { id, draft: soundDraft() }));
  const save = (title: string) => studio.as.instructor.put(`/api/recipes/${id}`, { revision: 1, draft: soundDraft({ title }) });
  const both = await Promise.all([save('One'), save('Other')]);
  expect(both.map((answer) => answer.statusCode).sort()).toEqual([200, 409]);
  await expectRefused(studio.admin, () => save('Third'), { status: 409, code: 'stale-revision' });
  await expectRefused(studio.admin, () => studio.as.owner.post(`/api/recipes/${id}/versions`, { id: newId(), revision: 1 }), {
    status: 409,
    code: 'stale-revision',
  });
  const publish = () => studio.as.owner.post(`/api/recipes/${id}/versions`, { id: newId(), revision: 2 });
  const twice = await Promise.all([publish(), publish()]);
  expect(twice.filter((answer) => answer.statusCode >= 500)).toEqual([]);
  const { rows } = await studio.admin.query<{ number: number }>('SELECT number FROM recipe_version WHERE recipe_id = $1 ORDER BY number', [id]);
  expect(rows.map((row) => row.number)).toEqual(rows.map((_, i) => i + 1));
});

test('a published version does not follow its draft', async () => {
  const { recipeId, versionId } = await publishedRecipe(studio);
  const before = await ok<{ draft: RecipeDraft }>(studio.as.assistant.get(`/api/recipe-versions/${versionId}`));
  await ok(studio.as.instructor.put(`/api/recipes/${recipeId}`, { revision: 1, draft: soundDraft({ title: 'Changed', superfatPercent: '10' }) }));
  expect(await ok(studio.as.assistant.get(`/api/recipe-versions/${versionId}`))).toEqual(before);
});
