import { expect, test } from 'vitest';
import { moneyIn } from './money.ts';

// ISO 4217, minor units: EUR 2, JPY 0, KWD 3.
test.each([
  ['EUR', 4150, '€41.50'],
  ['JPY', 4150, '¥4,150'],
  ['KWD', 4150, 'KWD 4.150'],
])('%s %d', (currency, minor, words) => {
  expect(moneyIn(currency)(minor).replaceAll('\u00a0', ' ')).toBe(words);
});
