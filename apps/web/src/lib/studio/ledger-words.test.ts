import { expect, test } from 'vitest';
import { kindInWords, putRightPath, sortableTime } from './ledger-words.ts';

test('a line of the ledger is told in words', () => {
  expect(['receipt', 'checkout', 'return', 'used', 'other'].map(kindInWords)).toEqual(['Received', 'Handed out', 'Taken back', 'Used', 'other']);
});

// tz database: Auckland is 13 hours ahead of UTC in December (daylight time), Lisbon 0.
test('a time is told on the studio’s own clock, past midnight too', () => {
  expect(sortableTime('2026-12-05T14:30:00Z', 'Pacific/Auckland')).toBe('2026-12-06 03:30');
  expect(sortableTime('2026-12-05T00:05:00Z', 'Europe/Lisbon')).toBe('2026-12-05 00:05');
});

test('a line that stands for itself is put right by its mirror, one of a hand-out by a correction about it', () => {
  expect(putRightPath({ seq: 7, kind: 'disposal' })).toBe('/studio/cabinet/requests/new?kind=reversal&seq=7');
  for (const kind of ['checkout', 'return', 'used', 'reversal'])
    expect(putRightPath({ seq: 7, kind })).toBe('/studio/cabinet/requests/new?kind=correction&seq=7');
});
