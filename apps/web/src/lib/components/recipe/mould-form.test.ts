import { expect, test } from 'vitest';
import { mouldFieldsOf, mouldFormOf, mouldIsTyped, mouldOf } from './mould-form.ts';

const form = (typed: Record<string, string>) => mouldFormOf(Object.fromEntries(Object.entries(typed).map(([name, text]) => [`mould/${name}`, text])));
const volume = (typed: Record<string, string>) => {
  const read = mouldOf(form(typed));
  return read.ok ? read.value.volumeMl : read.problems.map(({ pointer }) => pointer);
};

test('by hand: 24 x 9 x 7 cm are 1512 mL, in mm or cm; a pipe of 75 mm, 250 mm deep, 1104 mL', () => {
  expect(volume({ lengthMm: '240', widthMm: '90', depthMm: '70' })).toBe(1512);
  expect(volume({ lengthMm: '24 cm', widthMm: '9cm', depthMm: '70 mm' })).toBe(1512);
  expect(volume({ kind: 'cylinder', diameterMm: '75', depthMm: '250' })).toBe(1104);
});

// Water weighs 0.9982 g/mL at 20 C (CRC Handbook, density of water).
test('998.2 g of water fill a litre', () => {
  expect(volume({ kind: 'water', waterG: '998.2 g' })).toBe(1000);
});

test('what cannot be read is said at its field, and nothing is guessed', () => {
  expect(volume({ lengthMm: '1,234', widthMm: '90', depthMm: '70' })).toEqual(['/lengthMm']);
  expect(volume({ kind: 'water', waterG: '' })).toEqual(['/waterMassMg']);
});

test('only the fields of the chosen way count as typed; fields go there and back', () => {
  expect(mouldIsTyped(form({ lengthMm: '240', widthMm: '90' }))).toBe(false);
  expect(mouldIsTyped(form({ kind: 'cylinder', diameterMm: '75', depthMm: '250' }))).toBe(true);
  expect(mouldIsTyped(form({ kind: 'water', depthMm: '250' }))).toBe(false);
  const typed = form({ kind: 'cylinder', diameterMm: '7.5 cm' });
  expect(mouldFormOf(mouldFieldsOf(typed))).toEqual(typed);
});
