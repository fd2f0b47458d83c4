import type { BottleOut } from '@ashwater/contracts';
import { expect, test } from 'vitest';
import { checkGain, checkTransfer } from './bottle-check.ts';

const BOTTLE: BottleOut = {
  id: 'a',
  label: 'A-1',
  lotId: 'l',
  lotNumber: 'L-7',
  substance: 'NaOH',
  tareMg: 250_000,
  receivedMg: 1_000_000,
  balanceMg: 700_000,
  outMg: 0,
  state: 'opened',
  place: '',
  inHands: false,
  supplier: 'Harbour Chemicals',
  receivedAt: '2026-11-01T09:00:00Z',
  may: [],
  acts: [],
  lines: [],
  others: [{ id: 'b', label: 'A-2', balanceMg: 10 }],
  lastCount: null,
  cautions: [],
};
const form = (values: Record<string, string>): FormData => {
  const data = new FormData();
  for (const [name, value] of Object.entries({ scaleStep: '1', ...values })) data.set(name, value);
  return data;
};
const transfer = (values: Record<string, string>) => {
  const { faults, check } = checkTransfer(form(values), BOTTLE);
  return check ?? faults.found.map(({ pointer }) => pointer.slice(1));
};
const gain = (values: Record<string, string>) => {
  const { faults, massMg } = checkGain(form({ reason: 'lid open', ...values }), BOTTLE);
  return faults.found.length > 0 ? faults.found.map(({ pointer }) => pointer.slice(1)) : massMg;
};

test('what is put into a known container is typed; a new one’s weighing says it', () => {
  expect(transfer({ to: 'b', mass: '700' })).toEqual({ massMg: 700_000, toId: 'b', toLabel: 'A-2' });
  expect(transfer({ to: 'new', 'newContainer/label': ' A-3 ', 'newContainer/gross': '350,5', 'newContainer/tare': '100' })).toEqual({
    massMg: 250_500,
    toId: null,
    toLabel: 'A-3',
  });
});

test('all faults of a transfer are told at once, beside their fields', () => {
  expect(transfer({ to: '', mass: '' })).toEqual(['to', 'mass']);
  expect(transfer({ to: 'elsewhere', mass: '5', scaleStep: '' })).toEqual(['to', 'scaleStep']);
  expect(transfer({ to: 'b', mass: '0' })).toEqual(['mass']);
  expect(transfer({ to: 'b', mass: '700.001' })).toEqual(['mass']);
  expect(transfer({ to: 'new' })).toEqual(['newContainer/label', 'newContainer/gross', 'newContainer/tare']);
  expect(transfer({ to: 'new', 'newContainer/label': 'A-3', 'newContainer/gross': '100', 'newContainer/tare': '100' })).toEqual(['newContainer/gross']);
  expect(transfer({ to: 'new', 'newContainer/label': 'A-3', 'newContainer/gross': '801', 'newContainer/tare': '100' })).toEqual(['newContainer/gross']);
});

test('a named scale needs no typed step', () => {
  expect(transfer({ to: 'b', mass: '1', scaleStep: '', scaleId: 's' })).toMatchObject({ massMg: 1000 });
});

test('a gain is what the scale shows over the book, or less of it, with a reason', () => {
  expect(gain({ gross: '962' })).toBe(12_000);
  expect(gain({ gross: '962', mass: '5' })).toBe(5_000);
  expect(gain({ gross: '962', mass: '12.001' })).toEqual(['mass']);
  expect(gain({ gross: '950' })).toEqual(['gross']);
  expect(gain({ gross: '1651' })).toEqual(['gross']);
  expect(gain({ gross: '962', reason: ' ' })).toEqual(['reason']);
  expect(gain({ gross: '' })).toEqual(['gross']);
});
