import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { classBody, classroom, ok, publishedRecipe, takeSeat } from '../../testing/classroom.ts';
import type { Classroom } from '../../testing/classroom.ts';
import { readPdf } from '../../testing/read-pdf.ts';
import { testStudio } from '../../testing/test-studio.ts';
import type { TestStudio } from '../../testing/test-studio.ts';

let studio: TestStudio;
let room: Classroom;
beforeAll(async () => {
  studio = await testStudio();
  room = await classroom(studio, { stations: 3, title: '=Saturday, beginners' });
  await takeSeat(studio, room.benches[0]!, 'Łucja');
});
afterAll(() => studio.close());

const get = (path: string, as: keyof TestStudio['as'] = 'assistant') => studio.as[as].get(path);
const print = (file: string, as?: keyof TestStudio['as']) => get(`/api/classes/${room.classId}/prints/${file}`, as);

test.each(['cards.pdf', 'class-sheet.pdf', 'gear.pdf', 'pull-list.pdf', 'first-aid.pdf', 'labels.pdf'])(
  '%s comes inline as a PDF that nobody keeps',
  async (file) => {
    const answer = await print(file);
    expect([answer.statusCode, answer.headers['content-type'], answer.headers['cache-control']]).toEqual([200, 'application/pdf', 'no-store']);
    expect(answer.headers['content-disposition']).toMatch(/^inline; filename="[a-z0-9-]+\.pdf"$/);
    const pages = await readPdf(answer.rawPayload);
    expect(pages[0]!.widthMm).toBeCloseTo(210, 1);
  },
);

test('cards.pdf has every card in force with what it asks for, on the paper asked for', async () => {
  const pages = await readPdf((await print('cards.pdf?paper=letter')).rawPayload);
  expect(pages[0]!.widthMm).toBeCloseTo(215.9, 1);
  const text = pages.map((page) => page.text.replace(/\s/g, ' ')).join(' ');
  for (const { card } of room.benches) {
    expect(text).toContain(`Weigh card ${card.number}, issue ${card.issue}`);
    for (const step of card.content.steps) if (step.targetMg !== null) expect(text).toContain(`${step.targetMg / 1000} g`.replace(/^(\d)(\d{3})/, '$1 $2'));
  }
});

test('names of those who joined stand on class sheet and gear list', async () => {
  for (const file of ['class-sheet.pdf', 'gear.pdf'])
    expect((await readPdf((await print(file)).rawPayload)).map(({ text }) => text.replaceAll(' ', '')).join('')).toContain('Łucja');
});

test('the pull list as CSV sums the cards and is safe to open', async () => {
  const answer = await print('pull-list.csv?spare=0');
  expect(answer.headers['content-type']).toBe('text/csv; charset=utf-8');
  expect(answer.headers['content-disposition']).toMatch(/^attachment; filename="pull-list-saturday-beginners\.csv"$/);
  const [head, ...rows] = answer.body.trimEnd().split('\r\n');
  expect(head).toBe('\uFEFFitem,lot,fetch,unit,cards_need,spare_percent,stations,note');
  const naohMg = room.benches.reduce((sum, { card }) => sum + card.content.lines.find(({ kind }) => kind === 'naoh')!.targetMg, 0);
  const { lotNumber } = room.benches[0]!.card.content.lots[0]!;
  expect(rows.find((row) => row.startsWith('Sodium hydroxide'))).toBe(
    `Sodium hydroxide,${lotNumber},${naohMg / 1000},g,${naohMg / 1000},0,3,Locked cabinet: check out in the books`,
  );
});

test('one card’s label alone, and at a later place on the sheet', async () => {
  const cardId = room.benches[1]!.card.id;
  const [page] = await readPdf((await print(`labels.pdf?card=${cardId}&start=3`)).rawPayload);
  const names = page!.items.filter(({ text }) => text.startsWith('Solution of'));
  expect(names).toHaveLength(1);
  // The third of two across stands in the second row: 13.1 mm, one pitch of 67.7 mm, and at most 5 mm inside it.
  expect(names[0]!.y).toBeGreaterThan(80.8);
  expect(names[0]!.y).toBeLessThan(88);
});

test('a draft has a pull list and a first-aid sheet, but no card, gear list, class sheet or label', async () => {
  const recipe = await publishedRecipe(studio);
  const draft = await classBody(studio, recipe.versionId, { stations: 1, lotId: room.lotId });
  await ok(studio.as.instructor.post('/api/classes', draft));
  const status = async (file: string) => (await get(`/api/classes/${draft.id}/prints/${file}`)).statusCode;
  expect(await Promise.all(['pull-list.pdf', 'pull-list.csv', 'first-aid.pdf'].map(status))).toEqual([200, 200, 200]);
  expect(await Promise.all(['cards.pdf', 'gear.pdf', 'class-sheet.pdf', 'labels.pdf'].map(status))).toEqual([409, 409, 409, 409]);
});

test('what cannot be printed is refused in words, and no class of nowhere is printed', async () => {
  for (const query of ['grid=2x4-99.1x67.7&start=9', 'grid=2x2-105x148.5&start=5', 'grid=unknown', 'start=0', 'x=21', 'y=up', `card=${newId()}`]) {
    const answer = await print(`labels.pdf?${query}`);
    expect([query, answer.statusCode >= 400 && answer.statusCode < 500, answer.headers['content-type']]).toEqual([
      query,
      true,
      expect.stringContaining('problem+json'),
    ]);
  }
  expect((await print('cards.pdf?paper=a3')).statusCode).toBe(400);
  expect((await get(`/api/classes/${newId()}/prints/cards.pdf`)).statusCode).toBe(404);
});

test('the cabinet sheet is for those who keep the cabinet, and names the containers without the book’s figure', async () => {
  expect((await get('/api/prints/cabinet.pdf')).statusCode).toBe(403);
  const [page] = await readPdf((await get('/api/prints/cabinet.pdf', 'manager')).rawPayload);
  const { lots } = (await studio.as.manager.get('/api/cabinet')).json<{ lots: { containers: { label: string; balanceMg: number }[] }[] }>();
  for (const { label, balanceMg } of lots.flatMap(({ containers }) => containers)) {
    expect(page!.text).toContain(label);
    expect(page!.text.replace(/\s/g, '')).not.toContain(`${balanceMg / 1000}g`);
  }
  const calibration = await get('/api/prints/calibration.pdf?grid=2x2-105x148.5&x=1&y=-1');
  expect((await readPdf(calibration.rawPayload))[0]!.text).toContain('2 x 2, 105 x 148.5 mm');
});

test('container labels: those that hold something, or one; a lot or container of nowhere is none', async () => {
  const at = `/api/lots/${room.lotId}/prints/labels.pdf`;
  const text = async (path: string) => (await readPdf((await get(path)).rawPayload)).map((page) => page.text.replace(/\s+/g, ' ')).join(' ');
  const [first] = room.containerIds;
  const { label } = (await get(`/api/containers/${first}`)).json<{ label: string }>();
  expect(await text(at)).toContain(`${label}: Sodium hydroxide, dry`);
  expect(await text(`${at}?container=${first}&start=3`)).toContain(`${label}: Sodium hydroxide, dry`);
  const statuses = [`${at}?container=${newId()}`, `/api/lots/${newId()}/prints/labels.pdf`, `${at}?grid=2x2-105x148.5&start=5`];
  expect(await Promise.all(statuses.map(async (path) => (await get(path)).statusCode))).toEqual([404, 404, 422]);
});
