import { expect, test } from 'vitest';
import { LIQUIDS, liquidByKey } from './liquids.ts';

test('goat milk holds 86.4 % water by FAO 1949 and 87.03 % by USDA (from memory): they agree within a point', () => {
  expect(Math.abs((liquidByKey('goat_milk')?.waterPercent ?? 0) - 87.03)).toBeLessThan(1);
});

test('keys are unique, water is a share, and every milk warns of scorching', () => {
  expect(new Set(LIQUIDS.map((liquid) => liquid.key)).size).toBe(LIQUIDS.length);
  for (const liquid of LIQUIDS) {
    expect(liquid.waterPercent).toBeGreaterThan(50);
    expect(liquid.waterPercent).toBeLessThanOrEqual(100);
    if (liquid.key.endsWith('milk')) expect(liquid.cautions.join()).toContain('scorch');
  }
});

test('an unknown key gives undefined', () => {
  expect(liquidByKey('petrol')).toBeUndefined();
});
