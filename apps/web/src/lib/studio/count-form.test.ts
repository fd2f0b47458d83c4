import { expect, test } from 'vitest';
import { againOnSheet, faultsOnSheet, weighedLines } from './count-form.ts';

const SHEET = {
  rows: '3',
  scaleStep: '1',
  'lines/0/containerId': 'a',
  'lines/0/gross': '  ',
  'lines/1/containerId': 'b',
  'lines/1/gross': ' 0 ',
  'lines/2/containerId': 'c',
  'lines/2/gross': '812,5',
};

test('a blank field is a container that was not weighed; a typed 0 is a weight', () => {
  expect(weighedLines(SHEET)).toEqual([
    { containerId: 'b', gross: '0', first: '', row: 1 },
    { containerId: 'c', gross: '812,5', first: '', row: 2 },
  ]);
});

test('a count of lines that makes no sense gives no lines, and never more than a sheet holds', () => {
  expect(['', 'x', '-1'].map((rows) => weighedLines({ ...SHEET, rows }).length)).toEqual([0, 0, 0]);
  expect(weighedLines({ ...SHEET, rows: '1e9' })).toHaveLength(2);
});

test('a fault finds its field on the sheet although blank lines were not sent', () => {
  const lines = weighedLines(SHEET);
  const faults = [
    { pointer: '/lines/0/gross', detail: 'too light' },
    { pointer: '/lines/1/containerId', detail: 'out' },
    { pointer: '/scaleStep', detail: 'blank' },
    { pointer: '/lines/9/gross', detail: 'unknown' },
  ];
  expect(faultsOnSheet(faults, lines).map(({ pointer }) => pointer)).toEqual(['/lines/1/gross', '/lines/2/gross', '/scaleStep', '/lines/9/gross']);
});

test('what is weighed once more keeps its first figure beside a blank field; the others keep theirs', () => {
  const values = { 'lines/0/gross': '880', 'lines/1/gross': '1250', scaleStep: '1' };
  expect(againOnSheet(values, [{ pointer: '/lines/0/gross', detail: 'again' }])).toEqual({
    'lines/0/gross': '',
    'lines/0/first': '880',
    'lines/1/gross': '1250',
    scaleStep: '1',
  });
});
