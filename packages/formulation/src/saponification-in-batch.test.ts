import { expect, test } from 'vitest';
import type { Fat } from './fats.ts';
import { FATS, fatByKey } from './fats.ts';
import { saponificationInBatch } from './saponification-in-batch.ts';

const known = (key: string): Fat => {
  const fat = fatByKey(key);
  if (!fat) throw new Error(`no fat ${key}`);
  return fat;
};

test('a glyceride fat takes up its saponification value', () => {
  for (const fat of FATS.filter((each) => each.kind === 'fat')) expect(saponificationInBatch(fat)).toEqual(fat.saponificationValue);
});

test('of beeswax only the free acid is sure: acid value from 17 (Ph. Eur.)', () => {
  expect(saponificationInBatch(known('beeswax'))).toEqual({ low: 17, nominal: 95.5, high: 104 });
});

test('of jojoba nothing is sure, while all of it may react', () => {
  expect(saponificationInBatch(known('jojoba'))).toMatchObject({ low: 0, high: 95 });
});
