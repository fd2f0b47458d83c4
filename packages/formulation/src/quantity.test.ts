import { expect, test } from 'vitest';
import { formatMass, parseDecimal, parseMass } from './quantity.ts';
import { codesOf, detailsOf, valueOf } from './testing.ts';

test.each([
  ['131', 131_000],
  ['131.5', 131_500],
  ['131,5', 131_500],
  [' 131.5 g ', 131_500],
  ['131.5\u00a0g', 131_500],
  ['1\u202f234.5', 1_234_500],
  ['1 234 567 mg', 1_234_567],
  ['1.234', 1_234],
  ['0.1', 100],
  ['0.007', 7],
  ['0', 0],
  ['1.5 kg', 1_500_000],
  ['0.000001kg', 1],
  ['250 mg', 250],
  ['4.35 G', 4_350],
])('%j is %d mg', (text, massMg) => {
  expect(valueOf(parseMass(text))).toEqual({ massMg });
});

test.each([
  // NIST Handbook 44, Appendix C: 1 oz avdp = 28.349523125 g and 1 lb = 453.59237 g, both exact.
  ['1 oz', 28_350],
  ['16 oz', 453_592],
  ['1 lb', 453_592],
  ['1000 oz', 28_349_523],
  ['100 lb', 45_359_237],
])('%s is %d mg', (text, massMg) => {
  expect(valueOf(parseMass(text))).toEqual({ massMg });
});

test('the unit asked for counts only when none is typed', () => {
  expect(valueOf(parseMass('2', 'kg'))).toEqual({ massMg: 2_000_000 });
  expect(valueOf(parseMass('2 g', 'kg'))).toEqual({ massMg: 2_000 });
});

test.each([
  ['', 'value-missing '],
  ['   ', 'value-missing '],
  ['g', 'value-missing '],
  ['1,234', 'number-ambiguous '],
  ['1.234.5', 'number-ambiguous '],
  ['1,234.5', 'number-ambiguous '],
  ['-3', 'value-out-of-range '],
  ['\u22123 g', 'value-out-of-range '],
  ['1e3', 'number-unreadable '],
  ['NaN', 'number-unreadable '],
  ['Infinity', 'number-unreadable '],
  ['.5', 'number-unreadable '],
  ['5.', 'number-unreadable '],
  ['12 34', 'number-unreadable '],
  ['0x10', 'number-unreadable '],
  ['+5', 'number-unreadable '],
  ['131.5 stone', 'number-unreadable '],
  ['1.2345', 'number-unreadable '],
  ['0.5 mg', 'number-unreadable '],
  ['1000001 kg', 'value-out-of-range '],
  ['9'.repeat(300), 'number-unreadable '],
])('%j is refused', (text, expected) => {
  expect(codesOf(parseMass(text))).toEqual([expected]);
});

test('the ambiguous comma is answered with both ways to write it', () => {
  expect(detailsOf(parseMass('1,234'))).toEqual(['"1,234" can mean 1234 or 1.234; write 1234 or 1.234.']);
});

test('a plain number keeps to its rule', () => {
  const rule = { name: 'The lye concentration', min: 20, max: 50, maxDecimals: 1 };
  expect(valueOf(parseDecimal('33,3 %', rule))).toEqual({ value: 33.3 });
  expect(valueOf(parseDecimal('20', rule))).toEqual({ value: 20 });
  expect(detailsOf(parseDecimal('51', rule))).toEqual(['The lye concentration is 51; it must be from 20 to 50.']);
  expect(detailsOf(parseDecimal('33.33', rule))).toEqual(['The lye concentration has 2 decimals; use at most 1.']);
  expect(codesOf(parseDecimal('', rule))).toEqual(['value-missing ']);
});

test('a temperature below zero may carry a minus sign, where the rule allows it', () => {
  const ice = { name: 'The ice temperature', min: -40, max: 0, maxDecimals: 1 };
  expect(valueOf(parseDecimal('-10', ice))).toEqual({ value: -10 });
  expect(valueOf(parseDecimal('\u221218,5', ice))).toEqual({ value: -18.5 });
  expect(valueOf(parseDecimal('-0', ice))).toEqual({ value: 0 });
  expect(detailsOf(parseDecimal('-41', ice))).toEqual(['The ice temperature is -41; it must be from -40 to 0.']);
  expect(codesOf(parseDecimal('--5', ice))).toEqual(['value-out-of-range ']);
  expect(codesOf(parseDecimal('-5', { ...ice, min: 0, max: 9 }))).toEqual(['value-out-of-range ']);
});

test.each<[number, number | undefined, string]>([
  [141_000, undefined, '141\u00a0g'],
  [500, undefined, '0.5\u00a0g'],
  [1_234_567, undefined, '1\u202f234.567\u00a0g'],
  [12_345_678_000, undefined, '12\u202f345\u202f678\u00a0g'],
  [141_000, 100, '141.0\u00a0g'],
  [141_000, 1000, '141\u00a0g'],
  [141_050, 50, '141.05\u00a0g'],
  [141_005, 5, '141.005\u00a0g'],
  [0, undefined, '0\u00a0g'],
  [-2_500, undefined, '\u22122.5\u00a0g'],
  [NaN, undefined, '?\u00a0g'],
])('%d mg on a step of %s mg reads %j', (massMg, stepMg, text) => {
  expect(formatMass(massMg, stepMg)).toBe(text);
});
