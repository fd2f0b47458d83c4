import { describe, expect, test } from 'vitest';
import { instantOf, wallOf, zoneWords } from './zone.ts';

/*
 * Changes of the clock as published in the IANA time zone database (files europe, australasia, asia, northamerica):
 * EU rule: last Sunday of March and of October at 01:00 UTC; Lord Howe moves by half an hour; Samoa skipped 30 December 2011.
 */
describe('wall time to instant', () => {
  test.each([
    ['2026-12-05T14:30', 'Europe/London', '2026-12-05T14:30:00.000Z'],
    ['2026-07-05T14:30', 'Europe/London', '2026-07-05T13:30:00.000Z'],
    ['2026-07-05T14:30', 'Asia/Kathmandu', '2026-07-05T08:45:00.000Z'],
    ['2026-01-15T09:00', 'America/St_Johns', '2026-01-15T12:30:00.000Z'],
    ['2026-01-15T09:00', 'Pacific/Kiritimati', '2026-01-14T19:00:00.000Z'],
    // The minutes on both sides of the spring gap.
    ['2026-03-29T00:59', 'Europe/London', '2026-03-29T00:59:00.000Z'],
    ['2026-03-29T02:00', 'Europe/London', '2026-03-29T01:00:00.000Z'],
  ])('%s in %s', (wall, zone, at) => {
    expect(instantOf(wall, zone)).toEqual({ kind: 'once', at });
    expect(wallOf(at, zone)).toBe(wall);
  });

  test.each([
    ['2026-03-29T01:30', 'Europe/London'],
    ['2026-03-29T02:30', 'Europe/Berlin'],
    ['2026-03-08T02:30', 'America/New_York'],
    ['2026-10-04T02:15', 'Australia/Lord_Howe'],
    ['2011-12-30T12:00', 'Pacific/Apia'],
  ])('%s in %s is on nobody’s clock', (wall, zone) => {
    expect(instantOf(wall, zone)).toEqual({ kind: 'never' });
  });

  test('an hour that comes twice gives both, the first first', () => {
    expect(instantOf('2026-10-25T01:30', 'Europe/London')).toEqual({ kind: 'twice', at: '2026-10-25T00:30:00.000Z', second: '2026-10-25T01:30:00.000Z' });
    expect(instantOf('2026-11-01T01:30', 'America/New_York')).toEqual({ kind: 'twice', at: '2026-11-01T05:30:00.000Z', second: '2026-11-01T06:30:00.000Z' });
  });

  test.each(['', '2026-06-31T10:00', '2026-02-29T10:00', '2026-13-01T10:00', '2026-06-01T24:30', '2026-06-01', '1 June 2026 10:00', '2026-06-01T10:00Z'])(
    '"%s" is no wall time',
    (wall) => {
      expect(instantOf(wall, 'Europe/London')).toEqual({ kind: 'unreadable' });
    },
  );

  test('seconds of zero, which some browsers add, change nothing', () => {
    expect(instantOf('2026-12-05T14:30:00', 'Europe/London')).toEqual({ kind: 'once', at: '2026-12-05T14:30:00.000Z' });
  });

  test('midnight is hour 00 of its own day', () => {
    expect(wallOf('2026-12-05T00:00:00.000Z', 'UTC')).toBe('2026-12-05T00:00');
  });

  test('every quarter of an hour around a change goes there and back', () => {
    const changes = [
      ['Europe/London', Date.UTC(2026, 2, 28)],
      ['Europe/London', Date.UTC(2026, 9, 24)],
      ['Australia/Lord_Howe', Date.UTC(2026, 3, 4)],
      ['Asia/Kathmandu', 0],
    ] as const;
    for (const [zone, from] of changes) {
      for (let at = from; at < from + 2 * 86_400_000; at += 900_000) {
        const instant = new Date(at).toISOString();
        const back = instantOf(wallOf(instant, zone), zone);
        const possible = back.kind === 'once' ? [back.at] : back.kind === 'twice' ? [back.at, back.second] : [];
        if (!possible.includes(instant)) expect.fail(`${instant} in ${zone} came back as ${JSON.stringify(back)}`);
      }
    }
  });
});

test('a zone in words', () => {
  expect(zoneWords('America/New_York')).toBe('New York');
  expect(zoneWords('UTC')).toBe('UTC');
});
