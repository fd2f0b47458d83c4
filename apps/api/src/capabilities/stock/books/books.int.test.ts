import type { Ledger, Problem, ReportOut, StockCharts } from '@ashwater/contracts';
import type { z } from 'zod';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../../ids.ts';
import { bareClass } from '../../../testing/bare-class.ts';
import type { BareClass } from '../../../testing/bare-class.ts';
import { ok } from '../../../testing/classroom.ts';
import { bringBack, handedOut, receive } from '../../../testing/stock-steps.ts';
import { studioOn, testStudio } from '../../../testing/test-studio.ts';
import type { TestStudio } from '../../../testing/test-studio.ts';

let studio: TestStudio;
let saturday: BareClass;
let ids: string[];
beforeAll(async () => {
  studio = await testStudio();
  saturday = await bareClass(studio);
  ids = (await receive(studio.as.manager, ['B-1', 'B-2'])).containerIds;
  const first = await handedOut(studio.as.manager, ids[0]!, saturday.classId, '300');
  await ok(bringBack(studio.as.manager, first, '120'));
  await handedOut(studio.as.manager, ids[1]!, saturday.classId, '40');
});
afterAll(() => studio.close());

const ledger = async (query = '') => await ok<z.infer<typeof Ledger>>(studio.as.manager.get(`/api/ledger${query}`));
const today = () => new Intl.DateTimeFormat('en-CA', { timeZone: 'Europe/Lisbon' }).format(new Date());

test('every line tells what stood on the shelf after it, also over the edge of a page', async () => {
  const { lines, older } = await ledger();
  // by hand: 1000, 2000, out 300, back 120, used 180 (leaves no shelf), out 40
  expect(lines.map(({ kind, balanceMg }) => [kind, balanceMg])).toEqual([
    ['checkout', 1_780_000],
    ['used', 1_820_000],
    ['return', 1_820_000],
    ['checkout', 1_700_000],
    ['receipt', 2_000_000],
    ['receipt', 1_000_000],
  ]);
  expect(older).toBeNull();
  const first = await ledger('?limit=4');
  expect(first.older).toBe(lines[3]!.seq);
  const second = await ledger(`?limit=4&before=${first.older}`);
  expect([...first.lines, ...second.lines].map(({ balanceMg }) => balanceMg)).toEqual(lines.map(({ balanceMg }) => balanceMg));
});

test('of one container the balance is the container’s; where lines are left out none is told', async () => {
  const ofOne = await ledger(`?containerId=${ids[0]}`);
  expect(ofOne.lines.map(({ kind, balanceMg }) => [kind, balanceMg])).toEqual([
    ['return', 820_000],
    ['checkout', 700_000],
    ['receipt', 1_000_000],
  ]);
  const ofClass = await ledger(`?classId=${saturday.classId}`);
  expect(ofClass.lines.map(({ kind, balanceMg }) => [kind, balanceMg])).toEqual([
    ['checkout', null],
    ['used', null],
    ['return', null],
    ['checkout', null],
  ]);
  expect((await ledger('?kind=receipt')).lines.map(({ kind }) => kind)).toEqual(['receipt', 'receipt']);
  expect((await ledger('?toDay=2020-01-01')).lines).toEqual([]);
  expect((await ledger(`?fromDay=${today()}`)).lines).toHaveLength(6);
  expect((await ledger('?substance=KOH')).lines).toEqual([]);
});

test('a report of a period closes, and two different people sign it', async () => {
  const id = newId();
  await ok(studio.as.manager.post('/api/balance-reports', { id, fromDay: today(), toDay: today() }));
  const report = await ok<ReportOut>(studio.as.owner.get(`/api/balance-reports/${id}`));
  expect(report).toMatchObject({ number: 'R-0001', lines: 6, stillThere: true, signatures: [] });
  expect(report.substances).toEqual([
    {
      substance: 'NaOH',
      openingMg: 0,
      inMg: [
        { kind: 'receipt', massMg: 2_000_000 },
        { kind: 'return', massMg: 120_000 },
      ],
      outMg: [{ kind: 'checkout', massMg: 340_000 }],
      closingMg: 1_780_000,
      handedOutMg: 40_000,
      unaccountedMg: 0,
      count: null,
    },
  ]);
  const sign = (who: 'owner' | 'manager') => studio.as[who].post(`/api/balance-reports/${id}/sign`, {});
  expect((await Promise.all([sign('manager'), sign('manager'), sign('manager')])).map(({ statusCode }) => statusCode).sort()).toEqual([200, 409, 409]);
  expect((await sign('owner')).statusCode).toBe(200);
  expect((await ok<ReportOut>(studio.as.owner.get(`/api/balance-reports/${id}`))).signatures.map(({ mine }) => mine)).toEqual([false, true]);
  expect((await sign('owner')).json<Problem>().code).toBe('already-signed');
});

test('a report says when the ledger is not the one it was closed on, and nobody signs it then', async () => {
  const id = newId();
  await ok(studio.as.manager.post('/api/balance-reports', { id, fromDay: today(), toDay: today() }));
  await studio.admin.query('ALTER TABLE ledger_line DISABLE TRIGGER USER');
  const { rows } = await studio.admin.query<{ seq: string }>('DELETE FROM ledger_line WHERE seq = (SELECT max(seq) FROM ledger_line) RETURNING *');
  expect((await ok<ReportOut>(studio.as.owner.get(`/api/balance-reports/${id}`))).stillThere).toBe(false);
  expect((await studio.as.owner.post(`/api/balance-reports/${id}/sign`, {})).json<Problem>().code).toBe('ledger-changed');
  const columns = Object.keys(rows[0]!);
  await studio.admin.query(`INSERT INTO ledger_line (${columns.join(',')}) VALUES (${columns.map((_, i) => `$${i + 1}`).join(',')})`, Object.values(rows[0]!));
  await studio.admin.query('ALTER TABLE ledger_line ENABLE TRIGGER USER');
});

test.each([
  [{ fromDay: '2026-03-02', toDay: '2026-03-01' }, '/toDay'],
  [{ fromDay: '2999-01-01', toDay: '2999-02-01' }, '/fromDay'],
])('a report of %j is refused at %s', async (period, pointer) => {
  const answer = await studio.as.manager.post('/api/balance-reports', { id: newId(), ...period });
  expect([answer.statusCode, answer.json<Problem>().errors?.[0]?.pointer]).toEqual([422, pointer]);
});

test('the charts know the shelf of each day and what each class used', async () => {
  const { days, classes } = await ok<StockCharts>(studio.as.manager.get('/api/stock-charts'));
  expect(days).toHaveLength(180);
  expect([days.at(0)?.NaOH, days.at(-1)]).toEqual([0, { day: today(), NaOH: 1_780_000, KOH: 0 }]);
  expect(classes).toEqual([expect.objectContaining({ classId: saturday.classId, substance: 'NaOH', usedMg: 180_000 })]);
});

test('deliveries go out as CSV and come in again as the same, in another studio', async () => {
  const { csv } = await ok<{ csv: string }>(studio.as.manager.get('/api/lots.csv'));
  const other = await studioOn(studio.app, { studioName: 'Second studio', domain: 'second.example' });
  await ok(other.as.manager.post('/api/lots/import', { csv }));
  expect((await ok<{ csv: string }>(other.as.manager.get('/api/lots.csv'))).csv).toBe(csv);
  const again = await other.as.manager.post('/api/lots/import', { csv });
  expect([again.statusCode, again.json<Problem>().code]).toEqual([409, 'already-exists']);
  expect((await ok<{ csv: string }>(other.as.manager.get('/api/lots.csv'))).csv, 'nothing half-imported').toBe(csv);
});

test('product, price, best before and the named scale go out and in as well; a scale that is not here is told', async () => {
  const third = await studioOn(studio.app, { studioName: 'Third studio', domain: 'third.example' });
  const scale = { id: newId(), name: 'Door scale', step: '1', capacity: '30 kg', verificationInterval: '' };
  await ok(third.as.manager.post('/api/scales', scale));
  const bought = { ...{ product: 'Pearls, 5 kg', grade: 'technical' }, bestBefore: '2028-05-01', price: '41.50', freight: '6', leadDays: '9' };
  const lot = { id: newId(), substance: 'NaOH', supplier: 'Harbour Chemicals', lotNumber: 'L-3', purityPercent: '99', purityUncertaintyPercent: '0.5' };
  const papers = { sdsLink: 'https://example.org/sds', sdsRevisedOn: '2026-01-31', scaleId: scale.id };
  const containers = [{ id: newId(), label: 'T-1', gross: '5250', tare: '250' }];
  await ok(third.as.manager.post('/api/lots', { ...lot, ...papers, ...bought, containers }));
  const { csv } = await ok<{ csv: string }>(third.as.manager.get('/api/lots.csv'));
  expect(csv.split('\r\n')[1]).toBe(
    'NaOH,Harbour Chemicals,L-3,99,0.5,hydroxide,,,https://example.org/sds,2026-01-31,"Pearls, 5 kg",technical,2028-05-01,41.5,6,9,Door scale,1,T-1,5250,250',
  );
  const fourth = await studioOn(studio.app, { studioName: 'Fourth studio', domain: 'fourth.example' });
  const refused = await fourth.as.manager.post('/api/lots/import', { csv });
  expect(refused.json<Problem>().errors![0]!.detail).toContain('Row 2, column “scale”: there is no scale “Door scale” in use here');
  await ok(fourth.as.manager.post('/api/scales', { ...scale, id: newId() }));
  await ok(fourth.as.manager.post('/api/lots/import', { csv }));
  expect((await ok<{ csv: string }>(fourth.as.manager.get('/api/lots.csv'))).csv).toBe(csv);
  // The scale bears 30 kg: nothing heavier was read from it.
  const heavy = await fourth.as.manager.post('/api/lots/import', { csv: csv.replace('L-3', 'L-4').replace('T-1', 'T-2').replace(',5250,', ',30250,') });
  expect([heavy.statusCode, heavy.body]).toEqual([422, expect.stringContaining('Door scale bears')]);
});

test('a file with faults names each row and column, and nothing of it is taken in', async () => {
  const { csv } = await ok<{ csv: string }>(studio.as.manager.get('/api/lots.csv'));
  const [heading, one] = csv.split('\r\n');
  const good = one!.replace('B-1', 'X-1').replace('L-B-1', 'L-X');
  const bad = good.replace('X-1', 'X-2').replace(',1250,', ',250,');
  const lotless = good.replace('X-1', 'X-3').replace('L-X', 'L-Y').replace(',99,', ',,');
  const before = csv;
  const answer = await studio.as.manager.post('/api/lots/import', { csv: [heading, good, bad, lotless].join('\r\n') });
  expect(answer.statusCode).toBe(422);
  const details = answer.json<Problem>().errors!.map(({ detail }) => detail);
  expect(details).toEqual([expect.stringContaining('Row 3, column “gross g”'), expect.stringContaining('Row 4, column “purity percent”')]);
  expect((await ok<{ csv: string }>(studio.as.manager.get('/api/lots.csv'))).csv).toBe(before);
});
