import { expect, test } from 'vitest';
import { sampleCard } from '../../testing/print-samples.ts';
import { besides, needsOf } from './pull-list.ts';

const NONE = { totals: [], stock: [] };

test('lines of all cards are summed by substance; caustic late, ice last', () => {
  const needs = needsOf([sampleCard({ n: 1 }), sampleCard({ n: 2, fats: ['Olive oil'] })], NONE, 0);
  expect(needs.map(({ item, massMg, stations }) => [item, massMg, stations])).toEqual([
    ['Olive oil', 480_000, 2],
    ['Coconut oil', 241_000, 1],
    ['Water', 108_000, 2],
    ['Sodium hydroxide', 2_282_000, 2],
    ['Ice from water', 324_000, 2],
  ]);
});

test('cards weighed from two lots give two lines, in the order of the lot numbers', () => {
  const of = (lotNumber: string) => sampleCard({ change: { lots: [{ substance: 'NaOH', lotNumber, purityPercent: 98 }] } });
  const caustic = needsOf([of('L-10'), of('L-9'), of('L-10')], NONE, 0).filter(({ kind }) => kind === 'naoh');
  expect(caustic.map(({ lot, massMg, stations }) => [lot, massMg, stations])).toEqual([
    ['L-9', 1_141_000, 1],
    ['L-10', 2_282_000, 2],
  ]);
});

test('before publishing the totals of the plans stand in, with the lot chosen for the class', () => {
  const total = { key: 'naoh', kind: 'naoh', name: 'Sodium hydroxide', stations: 3, sumMg: 300_000, spareMg: 30_000, totalMg: 330_000, stepMg: 1000 };
  const stock = [{ substance: 'Sodium hydroxide', neededMg: 300_000, inCabinetMg: 0, lotNumber: 'L-1', enough: false, sheet: null }];
  expect(needsOf([], { totals: [total], stock }, 10)).toMatchObject([{ item: 'Sodium hydroxide', lot: 'L-1', massMg: 300_000, pullMg: 330_000, stations: 3 }]);
});

test('gloves are counted by people: two pairs each, for those who joined or two at a station, and the spare rounded up', () => {
  expect(besides(4, 3, 0).gloves).toMatchObject({ count: 16, unit: 'pairs' });
  expect(besides(4, 11, 10).gloves).toMatchObject({ count: 25, note: '2 pairs a person, 11 people' });
  expect(besides(4, 3, 10).vinegar).toMatchObject({ massMg: 1_000_000, pullMg: 1_100_000 });
});
