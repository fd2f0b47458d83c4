import { expect, test } from 'vitest';
import type { LotOut } from '@ashwater/contracts';
import { newId } from '../id.ts';
import { checkLot } from './lot-check.ts';

const typed = {
  rows: '2',
  substance: 'NaOH',
  supplier: 'Harbour Chemicals',
  lotNumber: 'L-7',
  purityPercent: '98,5',
  purityUncertaintyPercent: '0.5',
  sdsLink: 'https://example.org/sheet',
  sdsRevisedOn: '',
  scaleStep: '1 g',
  'containers/0/id': newId(),
  'containers/0/label': 'A-1',
  'containers/0/gross': '1 310',
  'containers/0/tare': '310',
  'containers/1/id': newId(),
  'containers/1/label': 'A-2',
  'containers/1/gross': '900,5',
  'containers/1/tare': '300',
};
const inBook: LotOut = {
  id: newId(),
  substance: 'NaOH',
  supplier: 'Harbour Chemicals',
  lotNumber: 'L-7',
  product: '',
  grade: '',
  purityPercent: 99,
  purityUncertaintyPercent: 1,
  assayIs: 'hydroxide',
  carbonatePercent: null,
  waterPercent: null,
  hydroxidePercent: { low: 98, high: 100 },
  sdsLink: 'https://example.org',
  sdsFileId: null,
  sdsRevisedOn: null,
  sheet: { stand: 'date unknown', words: '' },
  bestBefore: null,
  expiry: { stand: 'none', words: '' },
  priceMinor: null,
  freightMinor: null,
  leadDays: null,
  papersDisagree: '',
  receivedAt: '2026-01-01T00:00:00Z',
  balanceMg: 0,
  containers: [
    {
      id: newId(),
      label: 'A-2',
      lotId: newId(),
      lotNumber: 'L-7',
      substance: 'NaOH',
      tareMg: 1,
      receivedMg: 1,
      balanceMg: 0,
      outMg: 0,
      state: 'closed',
      place: '',
      inHands: false,
    },
  ],
};
function check(change: Record<string, string> = {}, lots: LotOut[] = []) {
  const values = { ...typed, ...change };
  const data = new FormData();
  for (const [name, value] of Object.entries(values)) data.set(name, value);
  return checkLot(data, values, newId(), lots);
}
const named = (change: Record<string, string>, lots?: LotOut[]) => check(change, lots).faults.found.map(({ pointer }) => pointer.slice(1));

test('a sound delivery comes back in milligrams', () => {
  const { faults, check: found } = check();
  expect(faults.found).toEqual([]);
  expect(found).toEqual({
    purityPercent: 98.5,
    uncertaintyPercent: 0.5,
    hydroxide: { low: 98, high: 99 },
    stepMg: 1000,
    containers: [
      { label: 'A-1', grossMg: 1_310_000, tareMg: 310_000 },
      { label: 'A-2', grossMg: 900_500, tareMg: 300_000 },
    ],
  });
});

test('blank fields are named one by one, in the order of the form, and never read as zero', () => {
  const blank = Object.fromEntries(
    Object.keys(typed)
      .filter((name) => !/rows|substance|\/id$/.test(name))
      .map((name) => [name, '']),
  );
  expect(named(blank)).toEqual([
    'supplier',
    'lotNumber',
    'purityPercent',
    'purityUncertaintyPercent',
    'sdsLink',
    'scaleStep',
    'containers/0/label',
    'containers/0/gross',
    'containers/0/tare',
    'containers/1/label',
    'containers/1/gross',
    'containers/1/tare',
  ]);
  expect(check(blank).faults.found.map(({ detail }) => detail)).toContain('Write what container 2 weighs empty.');
});

test('what cannot be true is refused beside its field', () => {
  expect(named({ 'containers/1/gross': '300' })).toEqual(['containers/1/gross']);
  expect(named({ 'containers/1/label': 'A-1' })).toEqual(['containers/1/label']);
  expect(named({ purityUncertaintyPercent: '98.5' })).toEqual(['purityUncertaintyPercent']);
  expect(named({ scaleStep: '0' })).toEqual(['scaleStep']);
  expect(named({ 'containers/0/gross': '1,310' })).toEqual(['containers/0/gross']);
  expect(named({ sdsLink: 'javascript:alert(1)' })).toEqual(['sdsLink']);
});

test('a lot and a label stand for one thing only', () => {
  expect(named({}, [inBook])).toEqual(['lotNumber', 'containers/1/label']);
  expect(named({ substance: 'KOH', 'containers/1/label': 'A-3' }, [inBook])).toEqual([]);
});

test('of total alkali the carbonate is taken off before anything is recorded; shares that cannot be are asked about', () => {
  // 2 NaOH for one Na2CO3, 39.997 and 105.988 g/mol: 1 % of carbonate reads as 0.755 % of hydroxide.
  const found = check({ assayIs: 'total alkali', carbonatePercent: '1' }).check!.hydroxide;
  expect(found.low).toBeCloseTo(98 - 0.755, 2);
  expect(found.high).toBe(99);
  expect(named({ carbonatePercent: 'some', waterPercent: '51' })).toEqual(['carbonatePercent', 'waterPercent']);
  expect(named({ assayIs: 'total alkali', purityPercent: '55', carbonatePercent: '20' })).toEqual(['carbonatePercent']);
  expect(named({ assayIs: 'a guess' })).toEqual(['assayIs']);
});
