import { expect, test } from 'vitest';
import { csv } from './csv.ts';
import { fileName } from './capabilities/prints/print-file.ts';

test('cells that a spreadsheet would run get an apostrophe; numbers stay numbers', () => {
  // OWASP ASVS 5.0, 1.2.10: these first characters.
  for (const start of ['=', '+', '-', '@', '\t', '\r']) expect(csv([[`${start}1+1`]]).replaceAll('"', '')).toBe(`'${start}1+1\r\n`);
  expect(csv([['a', -5, '']])).toBe('a,-5,\r\n');
});

test('commas, quotes and line ends are quoted as RFC 4180 says', () => {
  expect(csv([['a,b', 'say "no"', 'x\ny']])).toBe('"a,b","say ""no""","x\ny"\r\n');
});

test('file names hold nothing that a header or a disk would stumble over', () => {
  expect(fileName('Pull list Łódź "Saturday"/../\r\nx: y', 'pdf')).toBe('pull-list-odz-saturday-x-y.pdf');
  expect(fileName('石鹸', 'csv')).toBe('print.csv');
  expect(fileName('a'.repeat(200), 'pdf')).toHaveLength(64);
});
