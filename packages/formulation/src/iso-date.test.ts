import { expect, test } from 'vitest';
import { ageInDays } from './iso-date.ts';

test('days between calendar dates, over leap days (2024 and 2000 have one, 2100 has none: ISO 8601, Gregorian calendar)', () => {
  expect(ageInDays('2024-02-28', '2024-03-01')).toBe(2);
  expect(ageInDays('2025-02-28', '2025-03-01')).toBe(1);
  expect(ageInDays('2000-02-28', '2000-03-01')).toBe(2);
  expect(ageInDays('2100-02-28', '2100-03-01')).toBe(1);
  expect(ageInDays('2026-03-31', '2025-03-31')).toBe(-365);
});

test.each(['2026-02-30', '2026-13-01', '2025-02-29', '31.03.2026', '2026-3-31', '', '2026-03-31T00:00'])('"%s" is no day', (text) => {
  expect(ageInDays(text, '2026-01-01')).toBeUndefined();
  expect(ageInDays('2026-01-01', text)).toBeUndefined();
});
