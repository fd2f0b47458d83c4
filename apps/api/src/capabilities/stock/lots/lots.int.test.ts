import type { Cabinet, ClassOut, LotDetail, Problem } from '@ashwater/contracts';
import type { z } from 'zod';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../../ids.ts';
import { classBody, ok, publishedRecipe } from '../../../testing/classroom.ts';
import { testStudio } from '../../../testing/test-studio.ts';
import type { Answer, TestStudio } from '../../../testing/test-studio.ts';

let studio: TestStudio;
beforeAll(async () => {
  studio = await testStudio();
});
afterAll(() => studio.close());

const refusal = (answer: Answer): Problem => answer.json();

const delivery = (label: string, more: object = {}) => ({
  id: newId(),
  substance: 'NaOH',
  supplier: 'Harbour Chemicals',
  lotNumber: `L-${label}`,
  purityPercent: '99',
  purityUncertaintyPercent: '0.5',
  sdsLink: 'https://example.org/sds',
  sdsRevisedOn: '2026-01-31',
  scaleStep: '1',
  containers: [{ id: newId(), label, gross: '1250', tare: '250' }],
  ...more,
});
const receiveIt = (body: object) => studio.as.manager.post('/api/lots', body);
const lotOf = (id: string) => ok<LotDetail>(studio.as.assistant.get(`/api/lots/${id}`));
const PDF = Buffer.from('%PDF-1.7\ninvented sheet\n%%EOF');
const keep = (bytes: Buffer, name = 'sheet 7.pdf', id = newId()) => studio.as.manager.post('/api/stock-files', { id, name, base64: bytes.toString('base64') });

test('a delivery keeps what was paid, how long it took, how good it is, and in what it disagrees with its papers', async () => {
  const body = delivery('A-1', {
    product: 'Pearl caustic',
    grade: 'technical',
    price: '24.50',
    freight: '6,9',
    leadDays: '12',
    bestBefore: '2029-06-30',
    papersDisagree: 'The delivery note says 2 kg, one container of 1 kg came.',
    certificateLink: 'https://example.org/certificate',
  });
  await ok(receiveIt(body));
  const lot = await lotOf(body.id);
  expect(lot).toMatchObject({
    product: 'Pearl caustic',
    grade: 'technical',
    priceMinor: 2450,
    freightMinor: 690,
    leadDays: 12,
    bestBefore: '2029-06-30',
    currency: 'EUR',
  });
  expect(lot.papersDisagree).toBe('The delivery note says 2 kg, one container of 1 kg came.');
  expect(lot.papers.map(({ kind, link }) => [kind, link])).toEqual([
    ['certificate', 'https://example.org/certificate'],
    ['safety data sheet', 'https://example.org/sds'],
  ]);
  expect(refusal(await receiveIt(delivery('A-2', { price: '24.505' })))).toMatchObject({ code: 'input-refused', errors: [{ pointer: '/price' }] });
  expect((await lotOf(body.id)).receivedByName).toBe('Ada manager');
});

test('gross below tare and a lot without purity are refused beside their fields, and nothing is kept', async () => {
  const wrong = delivery('B-1', { purityPercent: '', containers: [{ id: newId(), label: 'B-1', gross: '249', tare: '250' }] });
  const refused = refusal(await receiveIt(wrong));
  expect(refused).toMatchObject({ code: 'input-refused', status: 422 });
  expect(refused.errors!.map(({ pointer }) => pointer)).toEqual(['/purityPercent', '/containers/0/gross']);
  expect(refused.errors![0]!.detail).toContain('no safe weigh card');
  expect(refused.errors![1]!.detail).toContain('nothing would be in it');
  expect((await studio.admin.query(`SELECT 1 FROM lot WHERE lot_number = 'L-B-1'`)).rowCount).toBe(0);
});

test('a named scale gives its step; one that is not there is refused', async () => {
  const scaleId = newId();
  await studio.admin.query(
    `INSERT INTO cabinet_scale (studio_id, id, name, step_mg, capacity_mg, added_at) VALUES ($1, $2, 'Shelf scale', 100, 6000000, now())`,
    [studio.studioId, scaleId],
  );
  const body = delivery('C-1', { scaleId, scaleStep: undefined });
  await ok(receiveIt(body));
  const { rows } = await studio.admin.query(
    `SELECT c.scale_step_mg::int AS step, c.scale_id, l.scale_id AS line_scale FROM container c JOIN ledger_line l ON l.to_place = 'container:' || c.id WHERE c.label = 'C-1'`,
  );
  expect(rows).toEqual([{ step: 100, scale_id: scaleId, line_scale: scaleId }]);
  expect(refusal(await receiveIt(delivery('C-2', { scaleId: newId(), scaleStep: undefined })))).toMatchObject({ errors: [{ pointer: '/scaleId' }] });
  expect(refusal(await receiveIt(delivery('C-3', { scaleStep: undefined })))).toMatchObject({ errors: [{ pointer: '/scaleStep' }] });
});

test('a sheet is kept as a file: a PDF by its first bytes, up to 5 MB, saved and never shown inside the site', async () => {
  const fileId = newId();
  await ok(keep(PDF, 'Übersicht (7).pdf', fileId));
  const got = await studio.app.inject({ method: 'GET', url: `/api/stock-files/${fileId}`, headers: { cookie: studio.as.assistant.cookie } });
  expect(got.statusCode).toBe(200);
  expect(got.rawPayload.equals(PDF)).toBe(true);
  expect(got.headers).toMatchObject({
    'content-type': 'application/pdf',
    'x-content-type-options': 'nosniff',
    'content-disposition': expect.stringMatching(/^attachment; /),
  });
  expect((await studio.as.nobody.get(`/api/stock-files/${fileId}`)).statusCode).toBe(401);

  for (const [bytes, why] of [
    [Buffer.from('<html>%PDF-1.7</html>'), 'not a PDF'],
    [Buffer.from(''), 'not a PDF'],
    [Buffer.concat([PDF, Buffer.alloc(5_000_001 - PDF.length)]), 'larger than 5 MB'],
  ] as const)
    expect(refusal(await keep(bytes)).detail).toContain(why);
  await ok(keep(Buffer.concat([PDF, Buffer.alloc(5_000_000 - PDF.length)])));
  expect(refusal(await studio.as.instructor.post('/api/stock-files', { id: newId(), name: 'x', base64: PDF.toString('base64') }))).toMatchObject({
    status: 403,
  });

  const byFile = delivery('D-1', { sdsLink: '', sdsFileId: fileId });
  await ok(receiveIt(byFile));
  expect(await lotOf(byFile.id)).toMatchObject({ sdsLink: '', sdsFileId: fileId, papers: [{ kind: 'safety data sheet', fileName: 'Übersicht (7).pdf' }] });
  expect(refusal(await receiveIt(delivery('D-2', { sdsLink: '' })))).toMatchObject({ errors: [{ pointer: '/sdsLink' }] });
  expect(refusal(await receiveIt(delivery('D-3', { sdsLink: '', sdsFileId: newId() })))).toMatchObject({ errors: [{ pointer: '/sdsFileId' }] });
  expect(refusal(await receiveIt(delivery('D-4', { sdsLink: 'javascript:alert(1)' })))).toMatchObject({ errors: [{ pointer: '/sdsLink' }] });
});

test('an old sheet is told of until a newer one is added; the older stays readable', async () => {
  const body = delivery('E-1', { sdsRevisedOn: '2019-05-01' });
  const { warnings } = await ok<{ warnings: string[] }>(receiveIt(body));
  expect(warnings.join(' ')).toMatch(/revised \d+ days ago; this studio’s limit is 1095 days/);
  expect((await lotOf(body.id)).sheet.stand).toBe('old');
  const today = new Date().toISOString().slice(0, 10);
  const paper = { id: newId(), kind: 'safety data sheet', link: 'https://example.org/newer', fileId: null, revisedOn: today };
  expect(refusal(await studio.as.manager.post(`/api/lots/${body.id}/papers`, { ...paper, link: '' }))).toMatchObject({ errors: [{ pointer: '/link' }] });
  await ok(studio.as.manager.post(`/api/lots/${body.id}/papers`, paper));
  const lot = await lotOf(body.id);
  expect(lot).toMatchObject({ sdsLink: 'https://example.org/newer', sdsRevisedOn: today, sheet: { stand: 'in date' } });
  expect(lot.papers.map(({ link }) => link)).toEqual(['https://example.org/newer', 'https://example.org/sds']);
  expect((await studio.as.manager.post(`/api/lots/${newId()}/papers`, { ...paper, id: newId() })).statusCode).toBe(404);
});

test('above the studio’s limit a delivery is recorded and said to be too much', async () => {
  const stand = async () => (await ok<z.infer<typeof Cabinet>>(studio.as.assistant.get('/api/cabinet'))).stand;
  const before = await stand();
  expect(before).toMatchObject({ limitMg: 25_000_000, limitWords: '', openRequests: 0, overdue: 0 });
  const large = delivery('F-1', { containers: [{ id: newId(), label: 'F-1', gross: '26 kg', tare: '1 kg' }] });
  const { warnings } = await ok<{ warnings: string[] }>(receiveIt(large));
  expect(warnings).toHaveLength(1);
  expect(warnings[0]).toContain('over its storage limit');
  expect(await stand()).toMatchObject({ totalMg: before.totalMg + 25_000_000, limitWords: warnings[0] });
});

test('a class is told of the newest sheet of its lot, and of the lot’s best-before day', async () => {
  const lot = delivery('G-1', { sdsRevisedOn: '2019-05-01', bestBefore: '2020-01-31' });
  await ok(receiveIt(lot));
  const { versionId } = await publishedRecipe(studio);
  const body = { ...(await classBody(studio, versionId, { setUp: () => ({ scaleStep: '0.1 g', scaleCapacity: '3000 g' }) })), naohLotId: lot.id };
  await ok(studio.as.instructor.post('/api/classes', body));
  const sheets = async () => (await ok<ClassOut>(studio.as.assistant.get(`/api/classes/${body.id}`))).checklist.find(({ key }) => key === 'sheets')!;
  expect(await sheets()).toMatchObject({
    state: 'open',
    words: expect.stringMatching(/is of 2019-05-01, older than the studio’s limit of 1095 days.*Best before 2020-01-31/),
  });
  const today = new Date().toISOString().slice(0, 10);
  await ok(
    studio.as.manager.post(`/api/lots/${lot.id}/papers`, {
      id: newId(),
      kind: 'safety data sheet',
      link: 'https://example.org/n',
      fileId: null,
      revisedOn: today,
    }),
  );
  const { words } = await sheets();
  expect(words).not.toContain('older than');
  expect(words).toContain('Best before 2020-01-31');
});
