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

test('raw coconut milk holds 67.62 % (USDA, from memory); a page on it prints 68 % (diet-health.info, read)', () => {
  expect(Math.round(liquidByKey('raw_coconut_milk')?.waterPercent ?? 0)).toBe(68);
});

test('what has alcohol or gas is boiled off first, what has sugar is frozen', () => {
  for (const key of ['beer', 'red_wine', 'white_wine']) expect(liquidByKey(key)?.cautions.join()).toMatch(/flat and boil off the alcohol/u);
  for (const key of ['apple_juice', 'carrot_juice', 'whole_milk', 'aloe_juice']) expect(liquidByKey(key)?.cautions.join()).toMatch(/freeze it/iu);
});

test('a second source never differs from the value used by more than 2 points, save the legal most of coconut milk', () => {
  for (const liquid of LIQUIDS.filter((each) => each.key !== 'coconut_milk')) {
    for (const other of liquid.otherValues ?? []) expect(Math.abs(other.waterPercent - liquid.waterPercent)).toBeLessThan(2);
  }
  expect(liquidByKey('coconut_milk')?.otherValues?.[0]?.waterPercent).toBe(87.3);
});
