import { expect, test } from 'vitest';
import { FALSE_ALARM_EVERY } from '../../apps/api/src/capabilities/stock/counts/loss-test.ts';
import { firstAlarms, MONTHS } from './cabinet-play.ts';

const STUDIOS = 200;
const alarmed = (alarms: readonly (number | null)[]): number => alarms.filter((at) => at !== null).length;
const median = (alarms: readonly (number | null)[]): number => alarms.map((at) => at ?? Infinity).sort((a, b) => a - b)[Math.floor(alarms.length / 2)]!;

/* Three years of monthly counts each. The stated rate is that of independent normal values: 1 - (1 - 1/930)^36 = 3.8 %. A thousand studios: 200 would leave 1.4 % in doubt. */
test('honest studios are alarmed no more often than is told', { timeout: 60_000 }, () => {
  expect(alarmed(firstAlarms(1000, { stolenShare: 0 }, 1000)) / 1000).toBeLessThanOrEqual(1 - (1 - 1 / FALSE_ALARM_EVERY) ** MONTHS);
});

test('who takes one percent of what is used is found, and half of them at the first count or the second', () => {
  const alarms = firstAlarms(STUDIOS, { stolenShare: 0.01 });
  expect(alarmed(alarms)).toBe(STUDIOS);
  expect(median(alarms)).toBeLessThanOrEqual(2);
});

test('a tenth of a percent is found later, and oftener than a false alarm', () => {
  const alarms = firstAlarms(STUDIOS, { stolenShare: 0.001 });
  expect(alarmed(alarms)).toBeGreaterThan(STUDIOS / 2);
  expect(median(alarms)).toBeGreaterThan(2);
});
