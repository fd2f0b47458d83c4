import { expect, test } from 'vitest';
import { assertMovement, classPlace, containerPlace, idsInPlaces, placeInWords, productPlace, SUPPLIER } from './ledger.ts';
import type { Movement } from './ledger.ts';

const receipt: Movement = {
  id: 'm',
  kind: 'receipt',
  lotId: 'l',
  fromPlace: SUPPLIER,
  toPlace: containerPlace('c'),
  massMg: 1,
  scaleStepMg: 1,
  subjectId: 's',
  reason: '',
};

test('a line goes only the way its kind goes', () => {
  expect(() => assertMovement(receipt)).not.toThrow();
  expect(() => assertMovement({ ...receipt, kind: 'checkout' })).toThrow('a checkout does not go from supplier to container:c');
  expect(() => assertMovement({ ...receipt, kind: 'return', fromPlace: productPlace('k') })).toThrow('a return does not go from product:k to container:c');
});

test.each([0, -1, 0.5, Number.NaN, 2 ** 53])('no line moves %s mg', (massMg) => {
  expect(() => assertMovement({ ...receipt, massMg })).toThrow('whole milligrams above 0');
});

test('places are named in words, and by their id when the name is not known', () => {
  const names = new Map([
    ['c', 'A-1'],
    ['k', 'Saturday beginners'],
  ]);
  const places = [SUPPLIER, containerPlace('c'), classPlace('k'), productPlace('k'), 'waste', 'unaccounted', containerPlace('x')];
  expect(places.map((place) => placeInWords(place, names))).toEqual([
    'Supplier',
    'Container A-1',
    'Class Saturday beginners',
    'Product of Saturday beginners',
    'Waste',
    'Unaccounted',
    'Container x',
  ]);
  expect(idsInPlaces(places)).toEqual({ containerIds: ['c', 'x'], classIds: ['k'], jarIds: [] });
});
