import type { AddFat } from '@ashwater/contracts';
import { expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { DomainProblem } from '../../problems/domain-problem.ts';
import { readFat } from './fat-input.ts';

const form: AddFat = {
  id: newId(),
  name: 'Meadowfoam seed oil',
  botanicalName: 'Limnanthes alba',
  svLow: '160',
  svHigh: '175',
  iodineLow: '',
  iodineHigh: '',
  densityGPerMl: '',
  unsaponifiablePercent: '',
  source: 'Data sheet of the supplier',
  sourceOn: '2025-11-02',
};
const TODAY = '2026-03-07';
function pointersOf(change: Partial<AddFat>): string[] {
  try {
    readFat({ ...form, ...change }, TODAY);
  } catch (error) {
    if (error instanceof DomainProblem) return error.errors.map(({ pointer }) => pointer);
    throw error;
  }
  return [];
}

test('figures are read, and what stayed blank is unknown, never zero', () => {
  expect(readFat(form, TODAY)).toEqual({
    name: 'Meadowfoam seed oil',
    botanicalName: 'Limnanthes alba',
    saponificationValue: { low: 160, high: 175 },
    iodineValue: null,
    densityGPerMl: null,
    unsaponifiablePercent: null,
    source: 'Data sheet of the supplier, 2025-11-02',
  });
  expect(readFat({ ...form, iodineLow: '86', iodineHigh: '100', densityGPerMl: '0.915', unsaponifiablePercent: '1.3' }, TODAY)).toMatchObject({
    iodineValue: { low: 86, high: 100 },
    densityGPerMl: 0.915,
    unsaponifiablePercent: 1.3,
  });
});

test.each<[string, Partial<AddFat>, string[]]>([
  ['a blank value', { svLow: '' }, ['/svLow']],
  ['a range upside down', { svLow: '190', svHigh: '180' }, ['/svHigh']],
  ['a value below any fat', { svLow: '49.9' }, ['/svLow']],
  ['a value above any fat', { svHigh: '400.1' }, ['/svHigh']],
  ['a value that reads two ways', { svLow: '1,234' }, ['/svLow']],
  ['one end of the iodine value', { iodineLow: '80' }, ['/iodineHigh']],
  ['an iodine value upside down', { iodineLow: '80', iodineHigh: '70' }, ['/iodineHigh']],
  ['a density in kg per m3', { densityGPerMl: '915' }, ['/densityGPerMl']],
  ['no source', { source: ' ' }, ['/source']],
  ['no date', { sourceOn: '' }, ['/sourceOn']],
  ['a day no calendar has', { sourceOn: '2025-02-30' }, ['/sourceOn']],
  ['a day to come', { sourceOn: '2026-03-08' }, ['/sourceOn']],
  ['the name of a fat of the list', { name: 'olive oil' }, ['/name']],
  ['several faults at once', { name: ' ', svLow: 'x', source: '' }, ['/name', '/svLow', '/source']],
])('refuses %s at its field', (_what, change, pointers) => {
  expect(pointersOf(change)).toEqual(pointers);
});

test('the edges of what is taken stand: 50 and 400, one value as both ends, a document of today', () => {
  expect(pointersOf({ svLow: '50', svHigh: '400' })).toEqual([]);
  expect(pointersOf({ svLow: '180', svHigh: '180', sourceOn: TODAY })).toEqual([]);
});
