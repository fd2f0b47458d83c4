import { describe, expect, test } from 'vitest';
import { checklist } from './checklist.ts';
import type { Facts } from './checklist.ts';

const NOW = new Date('2026-11-25T12:00:00Z');
const READY = { classStationId: 'a', name: 'North', safe: true, words: '', faults: [], notes: [], naohMg: 100_000, kohMg: 0 };
const NEED = {
  substance: 'Sodium hydroxide',
  neededMg: 100_000,
  inCabinetMg: 500_000,
  lotNumber: 'L-1',
  enough: true,
  sheet: { link: 'https://example.org', revisedOn: '2025-01-31', limitDays: 1095, expiryWords: '' },
};
const ICE = { key: 'ice', kind: 'ice', name: 'Ice', stations: 1, sumMg: 200_000, spareMg: 20_000, totalMg: 220_000, stepMg: 1000 };
const FACTS: Facts = {
  classId: 'c',
  readiness: [READY],
  stock: [NEED],
  totals: [ICE],
  stations: 3,
  scales: { faults: 0, notes: 0 },
  potsUnknown: [],
  seatsTaken: 0,
  sparePercent: 10,
  before: null,
  overdue: 0,
  checks: new Map(),
  now: NOW,
};
const item = (key: string, change: Partial<Facts> = {}) => checklist({ ...FACTS, ...change }).find((each) => each.key === key);
const sheetOf = (revisedOn: string | null, more: Partial<NonNullable<Facts['stock'][number]['sheet']>> = {}) =>
  item('sheets', { stock: [{ ...NEED, sheet: { ...NEED.sheet, revisedOn, ...more } }] });

describe('what is ready before a class', () => {
  test('what the service knows is done when nothing stands against it; what people look at starts open', () => {
    expect(checklist(FACTS).map(({ key, state }) => [key, state])).toEqual([
      ['plans', 'done'],
      ['scales', 'done'],
      ['stock', 'done'],
      ['sheets', 'done'],
      ['follow-ups', 'done'],
      ['ventilation', 'open'],
      ['eyewash', 'open'],
      ['gear', 'open'],
      ['containers', 'open'],
      ['ice', 'open'],
      ['first-aid', 'open'],
    ]);
  });

  test('an unsafe plan, a scale past its limit and a lot that falls short are faults, each with its way out', () => {
    expect(item('plans', { readiness: [READY, { ...READY, name: 'South', safe: false }] })).toMatchObject({
      state: 'fault',
      words: 'No safe plan: South.',
      link: '#ready',
    });
    expect(item('scales', { scales: { faults: 1, notes: 2 } })).toMatchObject({ state: 'fault', link: '/studio/stations' });
    expect(item('scales', { scales: { faults: 0, notes: 2 } })).toMatchObject({ state: 'open' });
    const short = [{ ...NEED, inCabinetMg: 60_000, enough: false }];
    expect(item('stock', { stock: short })).toMatchObject({ state: 'fault', words: 'Sodium hydroxide, lot L-1: 40\u00a0g short.', link: '/studio/cabinet' });
    expect(item('stock', { stock: [{ ...NEED, lotNumber: null, enough: false, sheet: null }] })).toMatchObject({ state: 'open', link: '/class/c/edit' });
  });

  test('a safety data sheet counts for the days that the studio gives it, and a lot is told of near its best-before day', () => {
    expect(sheetOf('2023-11-26')).toMatchObject({ state: 'done' });
    expect(sheetOf('2023-11-24')).toMatchObject({ state: 'open', words: expect.stringContaining('older than the studio’s limit of 1095 days') });
    expect(sheetOf('2023-11-24', { limitDays: 1100 })).toMatchObject({ state: 'done' });
    expect(sheetOf('2025-01-31', { expiryWords: 'Best before today.' })).toMatchObject({ state: 'open', words: 'Lot L-1: Best before today.' });
    expect(sheetOf(null)).toMatchObject({ state: 'open', words: expect.stringContaining('not known') });
    expect(sheetOf('2025-01-31', { link: '' })).toMatchObject({ state: 'open', words: 'Lot L-1 has no safety data sheet.' });
  });

  test('gear is counted for two a station or for those who joined, and the spare rounded up', () => {
    expect(item('gear')?.words).toMatch(/^For 6 people, and 1 spare/);
    expect(item('gear', { seatsTaken: 14 })?.words).toMatch(/^For 14 people, and 2 spare/);
  });

  test('ice is asked for only where a recipe has it; its amount is said', () => {
    expect(item('ice')?.words).toContain('220\u00a0g');
    expect(item('ice', { totals: [] })).toBeUndefined();
  });

  test('the latest look decides, with its writer', () => {
    const seen = (sound: boolean) => new Map([['eyewash', { sound, remark: sound ? '' : 'dry', at: NOW, byName: 'Ada' }]]);
    expect(item('eyewash', { checks: seen(true) })).toMatchObject({ state: 'done', byName: 'Ada', at: NOW.toISOString() });
    expect(item('eyewash', { checks: seen(false) })).toMatchObject({ state: 'fault', words: expect.stringContaining('Ada wrote: dry') });
  });
});
