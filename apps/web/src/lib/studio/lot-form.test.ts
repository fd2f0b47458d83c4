import { expect, test } from 'vitest';
import { hydroxideWords, lotBody, MOST_ROWS, nextLabel, rowCount, withLine, withoutLine } from './lot-form.ts';

const TWO = {
  rows: '2',
  supplier: 'Harbour Chemicals',
  sdsRevisedOn: '',
  'containers/0/id': 'id-0',
  'containers/0/label': 'A-1',
  'containers/0/gross': '1051',
  'containers/0/tare': '51',
  'containers/1/id': 'id-1',
  'containers/1/label': 'A-2',
  'containers/1/gross': '1049,5',
  'containers/1/tare': '50',
};

test('a line is added below, with the next label and blank masses, and nothing typed is lost', () => {
  const three = withLine(TWO, 'id-2');
  expect(three).toMatchObject({ ...TWO, rows: '3', 'containers/2/id': 'id-2', 'containers/2/label': 'A-3' });
  expect(three).not.toHaveProperty('containers/2/gross');
});

test('a removed line takes its own values along; the lines below keep theirs', () => {
  const one = withoutLine(TWO, 0);
  expect(one).toMatchObject({
    rows: '1',
    supplier: 'Harbour Chemicals',
    'containers/0/id': 'id-1',
    'containers/0/label': 'A-2',
    'containers/0/gross': '1049,5',
  });
  expect(one).not.toHaveProperty('containers/1/id');
});

test('the last line stays, and a line that is not there removes nothing', () => {
  const one = withoutLine(TWO, 1);
  expect(withoutLine(one, 0)).toBe(one);
  for (const index of [-1, 2, 0.5, Number.NaN]) expect(withoutLine(TWO, index)).toBe(TWO);
});

test('the count of lines that a browser sends is kept within 1 and 40', () => {
  expect(['', 'x', '-3', '0', '1.5', '7', '9e9'].map((rows) => rowCount({ rows }))).toEqual([1, 1, 1, 1, 1, 7, MOST_ROWS]);
  expect(withLine({ rows: '40' }, 'id')).toEqual({ rows: '40' });
});

test('labels count up and keep their zeros', () => {
  expect(['A-1', 'A-08', 'A-09', 'Drum 99', '7', 'Blue', ''].map(nextLabel)).toEqual(['A-2', 'A-09', 'A-10', 'Drum 100', '8', '', '']);
});

test('the body holds what was typed; a blank date is null, a blank mass stays blank', () => {
  const body = lotBody({ ...TWO, 'containers/1/gross': '' }, 'lot-id');
  expect(body).toMatchObject({ id: 'lot-id', supplier: 'Harbour Chemicals', sdsRevisedOn: null, scaleStep: '' });
  expect(body.containers).toEqual([
    { id: 'id-0', label: 'A-1', gross: '1051', tare: '51' },
    { id: 'id-1', label: 'A-2', gross: '', tare: '50' },
  ]);
});

test('a form from before the certificate could be told apart is of hydroxide', () => {
  expect(lotBody(TWO, 'lot-id')).toMatchObject({ assayIs: 'hydroxide', carbonatePercent: '', waterPercent: '' });
  expect(lotBody({ ...TWO, assayIs: 'total alkali', carbonatePercent: '0,5' }, 'lot-id')).toMatchObject({ assayIs: 'total alkali', carbonatePercent: '0,5' });
});

test('the hydroxide that is left is told outward', () => {
  expect(hydroxideWords({ low: 97.745, high: 99.41 })).toBe('97.7 to 99.5 %');
  expect(hydroxideWords({ low: 98.5, high: 99.5 })).toBe('98.5 to 99.5 %');
});
