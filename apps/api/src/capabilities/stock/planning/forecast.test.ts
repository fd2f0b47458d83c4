import { expect, test } from 'vitest';
import { coverDays, expectedUseMg, reorderPointMg, restock } from './forecast.ts';

const kg = (n: number) => n * 1_000_000;
// Two classes of 1 kg in 5 and in 10 days, then 0.7 kg a week: 0.1 kg a day. Worked by hand.
const demand = {
  needs: [
    { inDays: 5, needMg: kg(1) },
    { inDays: 10, needMg: kg(1) },
  ],
  weeklyUseMg: 700_000,
};

test.each([
  [0, 0],
  [4, 0],
  [5, kg(1)],
  [10, kg(2)],
  [20, kg(3)],
])('within %d days %d mg are used: planned classes first, the mean of the past after the last of them', (days, mg) => {
  expect(expectedUseMg(demand, days)).toBe(mg);
});

test.each([
  [kg(0.5), 5],
  [kg(1), 10],
  [kg(2), 11],
  [kg(2.5), 16],
])('%d mg last %d days', (have, days) => {
  expect(coverDays(demand, have)).toBe(days);
});
test('what nobody uses lasts', () => expect(coverDays({ needs: [], weeklyUseMg: 0 }, 1)).toBeNull());

test('the reorder point is the use while it is on its way, and two weeks', () => {
  expect(reorderPointMg(demand, 14)).toBe(kg(2) + 400_000 + 1_400_000);
});

const offer = { id: 'a', packMg: kg(5), priceMinor: 2000, freightMinor: 500, minimumPacks: 1, purityPercent: 99, leadDays: 7 };
const choose = (have: number, room: number, ...offers: (typeof offer)[]) => restock(demand, have, room, offers);

test('the cheapest that comes in time; the quickest when none does', () => {
  const cheap = { ...offer, id: 'cheap', priceMinor: 1500, leadDays: 21 };
  expect(choose(kg(4), kg(25), offer, cheap)).toMatchObject({ proposal: { offer: { id: 'cheap' }, arrivesInTime: true } });
  expect(choose(kg(2), kg(25), offer, cheap)).toMatchObject({ proposal: { offer: { id: 'a' }, arrivesInTime: true } });
  expect(choose(kg(0.5), kg(25), offer, cheap)).toMatchObject({ proposal: { offer: { id: 'a' }, arrivesInTime: false } });
});

test('never more than there is room for, and nothing when the least order does not fit', () => {
  const busy = { ...demand, weeklyUseMg: kg(10) };
  expect(restock(busy, 0, kg(12), [offer])).toMatchObject({ proposal: { packs: 2, massMg: kg(10) } });
  expect(choose(0, kg(4), offer)).toEqual({ kind: 'no-room' });
  expect(choose(0, kg(12), { ...offer, minimumPacks: 3 })).toEqual({ kind: 'no-room' });
  expect(choose(0, kg(25))).toEqual({ kind: 'no-offer' });
});
