import { expect, test } from 'vitest';
import { COLUMNS, deliveryOf, lotsOf, readRows } from './lots-csv.ts';

const heading = COLUMNS.join(',');
const row = 'NaOH,Harbour Chemicals,L-1,99,0.5,hydroxide,,,https://example.org/sds,2026-01-31,Pearls,technical,2027-05-01,41.5,6,9,,1,C-1,1250,250';
const told = (csv: string) => readRows(csv).faults.map(({ detail }) => detail);

test('a file is read with a byte order mark, semicolons, other line ends and columns in another order', () => {
  const plain = readRows(`${heading}\r\n${row}\r\n`);
  expect(plain.faults).toEqual([]);
  expect(plain.rows[0]).toMatchObject({ row: 2, lot: 'L-1', container: 'C-1', 'gross g': '1250' });
  const turned = readRows(`\uFEFF${[...COLUMNS].reverse().join(';')}\n${row.split(',').reverse().join(';')}\n`);
  expect(turned).toEqual(plain);
});

test('an apostrophe put before what a spreadsheet would run is taken off; any other stays', () => {
  const [read] = readRows(`${heading}\n${row.replace('L-1', "'=L-1").replace('Harbour Chemicals', "'t Hof")}`).rows;
  expect([read!.lot, read!.supplier]).toEqual(['=L-1', "'t Hof"]);
});

test.each([
  ['', 'Row 1, column “substance”'],
  [heading, 'There is a heading and nothing below it.'],
  [`${heading},colour\n${row},red`, 'Row 1, column “colour”: is not a column of a delivery.'],
  [`${heading.replace('gross g', 'tare g')}\n${row}`, 'Row 1, column “gross g”: is missing.'],
  [`${heading}\n${row},`, 'Row 2, column “tare g”: the row has 22 columns, the heading 21.'],
  [`${heading}\n${row}\n"never closed`, 'This is not readable as CSV'],
])('%j is told where it is wrong', (csv, words) => {
  expect(told(csv)[0]).toContain(words);
  expect(readRows(csv).rows).toEqual([]);
});

test('rows of one lot are one delivery; rows that contradict each other are named', () => {
  const { rows } = readRows(`${heading}\n${row}\n${row.replace('C-1', 'C-2')}\n${row.replace('C-1', 'C-3').replace(',99,', ',98,')}`);
  const { lots, faults } = lotsOf(rows);
  expect(lots).toHaveLength(1);
  expect(faults.map(({ detail }) => detail)).toEqual(['Row 4, column “purity percent”: says “98”, row 2 of the same lot “99”.']);
  let n = 0;
  expect(deliveryOf(lots[0]!, () => String((n += 1)), undefined)).toMatchObject({
    ...{ lotNumber: 'L-1', product: 'Pearls', grade: 'technical', bestBefore: '2027-05-01', price: '41.5', freight: '6', leadDays: '9', scaleStep: '1' },
    containers: [{ label: 'C-1' }, { label: 'C-2' }, { label: 'C-3' }],
  });
});
