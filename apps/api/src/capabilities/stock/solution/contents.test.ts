import { expect, test } from 'vitest';
import { causticIn, standOf } from './contents.ts';

const line = (kind: 'naoh' | 'koh' | 'water' | 'fat', targetMg: number) => ({
  key: kind,
  kind,
  name: kind,
  exactMg: targetMg,
  targetMg,
  acceptLowMg: targetMg,
  acceptHighMg: targetMg,
  stepMg: 1000,
});

test('a third of a solution holds a third of its caustic, each lot its own', () => {
  // by hand: 300 g of 900 g is a third; 180 g and 60 g of caustic
  const card = { lines: [line('fat', 1_000_000), line('naoh', 180_000), line('koh', 60_000), line('water', 660_000)], solutionMassMg: 900_000 };
  expect(causticIn(card, { naohLotId: 'n', kohLotId: 'k' }, 300_000)).toEqual([
    { lotId: 'n', massMg: 60_000 },
    { lotId: 'k', massMg: 20_000 },
  ]);
  expect(causticIn(card, { naohLotId: 'n', kohLotId: null }, 300_000)).toEqual([{ lotId: 'n', massMg: 60_000 }]);
});

test('a jar never holds more caustic than its card weighed out', () => {
  const card = { lines: [line('naoh', 180_000), line('water', 420_000)], solutionMassMg: 600_000 };
  expect(causticIn(card, { naohLotId: 'n', kohLotId: null }, 650_000)).toEqual([{ lotId: 'n', massMg: 180_000 }]);
});

const made = { massMg: 400_000, concentrationPercent: 30, place: '' };
test('topping up with water thins the solution; what is used goes missing at that strength', () => {
  // by hand: 400 g at 30 % hold 120 g; with 100 g of water that is 120 of 500 g, 24 %
  const stand = standOf(made, [
    { kind: 'topped', massMg: 100_000, place: null },
    { kind: 'used', massMg: 200_000, place: null },
    { kind: 'placed', massMg: null, place: 'Cabinet, lower shelf' },
  ]);
  expect(stand).toEqual({ massMg: 300_000, concentrationPercent: 24, place: 'Cabinet, lower shelf', gone: false });
});

test.each(['discarded', 'neutralised', 'disposed'] as const)('a jar that was %s holds nothing', (kind) => {
  expect(standOf(made, [{ kind, massMg: null, place: null }])).toMatchObject({ massMg: 0, gone: true });
});

test('a jar used up is gone', () => {
  expect(standOf(made, [{ kind: 'used', massMg: 400_000, place: null }])).toMatchObject({ massMg: 0, gone: true });
});
