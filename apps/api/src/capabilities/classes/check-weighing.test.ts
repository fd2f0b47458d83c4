import { describe, expect, test } from 'vitest';
import { checksInForce, checkWords, judgeCheck } from './check-weighing.ts';
import type { Check } from './check-weighing.ts';

const SCALE = { stepMg: 1000, capacityMg: 5_000_000 };
const NOW = new Date('2026-12-01T09:00:00Z');
const check = (days: number, change: Partial<Check> = {}): Check => ({
  id: `${days}`,
  stationId: 's',
  scale: 'main',
  knownMg: 1_000_000,
  knownLimitMg: 0,
  shownMg: 1_000_000,
  at: new Date(NOW.getTime() - days * 86_400_000),
  byName: 'Ada',
  ...change,
});

describe('a check of a scale', () => {
  // OIML R 76-1, Table 6, class III with e = 1 g: 0.5, 1 and 1.5 e up to 500, 2000 and 10 000 e; twice that in service (3.5.2).
  test.each([
    [500_000, 1000, false],
    [500_000, 1001, true],
    [501_000, 2000, false],
    [2_000_000, 2000, false],
    [2_001_000, 3000, false],
    [2_001_000, 3001, true],
  ])('at %i mg and %i mg off: past its limit %s', (knownMg, off, past) => {
    expect(judgeCheck({ knownMg, knownLimitMg: 0, shownMg: knownMg + off }, SCALE).past).toBe(past);
    expect(judgeCheck({ knownMg, knownLimitMg: 0, shownMg: knownMg - off }, SCALE).past).toBe(past);
  });

  test('is told with the mass it stood for and, past the limit, what follows', () => {
    expect(judgeCheck(check(0, { shownMg: 1_003_000 }), SCALE).words).toMatch(
      /3.g too much at 1.000.g; its limit there is 2.g\. Past its limit: do not use it/,
    );
    expect(judgeCheck(check(0), SCALE).words).toMatch(/^Right on at 1.000.g/);
  });

  test('speaks for ninety days and not from the future', () => {
    expect(checksInForce([check(90), check(90.001), check(-1), check(1)], SCALE, NOW).map(({ id }) => id)).toEqual(['1', '90']);
  });

  test('past its limit is forgotten only after a later good one at least as heavy', () => {
    const bad = check(5, { shownMg: 1_010_000 });
    const light = check(3, { knownMg: 999_000, shownMg: 999_000 });
    expect(checksInForce([bad, light], SCALE, NOW)).toContain(bad);
    expect(checksInForce([bad, check(6)], SCALE, NOW)).toContain(bad);
    expect(checksInForce([bad, check(3)], SCALE, NOW)).not.toContain(bad);
    expect(checkWords('scale', [bad, light], SCALE, NOW).fault).toMatch(/^Scale: .*Past its limit/);
  });

  test('missing or old is said, a good one is silent', () => {
    expect(checkWords('scale', [], SCALE, NOW).note).toMatch(/never checked/);
    expect(checkWords('scale', [check(100)], SCALE, NOW).note).toMatch(/more than 90 days/);
    expect(checkWords('scale', [check(1)], SCALE, NOW)).toEqual({ note: null, fault: null });
  });
});
