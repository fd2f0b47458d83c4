import { fc, test as propTest } from '@fast-check/vitest';
import { expect, test } from 'vitest';
import { barOf } from './bar.ts';
import { codesOf, valueOf } from './testing.ts';

/** 100 kg tristearin, 891.50 g/mol, fully saponified with NaOH. */
const TALLOW = {
  needMg: 18_880_000,
  glycerideNeedMg: 18_880_000,
  superfatPercent: 0,
  fatMg: 100_000_000,
  alkaliMg: 13_459_000,
  impuritiesMg: 0,
  waterMg: 0,
  otherMg: 0,
};

test('100 kg tallow as tristearin give 10.330 kg glycerol (Bhatt & Vora, Stoichiometry, ex. 4.7, with exact molar masses; printed 10.337)', () => {
  const { glycerolMg } = valueOf(barOf(TALLOW));
  expect(Math.abs(glycerolMg / 1e6 - 10.33)).toBeLessThan(0.002);
  expect(Math.abs(glycerolMg / 1e6 / 10.337 - 1)).toBeLessThan(0.002);
});

test('and 103.13 kg sodium stearate: three of 306.46 g/mol (PubChem, from memory) from one tristearin', () => {
  expect(Math.abs(valueOf(barOf(TALLOW)).soapMg / 1e6 - (3 * 306.46 * 100) / 891.5)).toBeLessThan(0.02);
});

test('water at pour and the cured range by hand: 1000 g fat, 130 g alkali, 270 g water', () => {
  const bar = valueOf(
    barOf({
      needMg: 190_000,
      glycerideNeedMg: 190_000,
      superfatPercent: 5,
      fatMg: 1_000_000,
      alkaliMg: 128_000,
      impuritiesMg: 2000,
      waterMg: 270_000,
      otherMg: 0,
    }),
  );
  expect(bar.pouredMg).toBe(1_400_000);
  expect(bar.waterAtPourPercent).toBeCloseTo(27 / 1.4, 9);
  expect(bar.curedMg).toEqual({
    low: expect.closeTo(1_130_000 / 0.95, 3),
    nominal: expect.closeTo(1_130_000 / 0.9, 3),
    high: expect.closeTo(1_130_000 / 0.85, 3),
  });
  expect(bar.freeFatMg).toBeCloseTo(50_000, 6);
});

test('a wax gives no glycerol, and a bar poured with little water cannot gain any', () => {
  expect(valueOf(barOf({ ...TALLOW, glycerideNeedMg: 0 })).glycerolMg).toBe(0);
  expect(valueOf(barOf({ ...TALLOW, waterMg: 1_000_000 })).curedMg.high).toBe(114_459_000);
});

test('a superfat below 0 means free alkali: refused', () => {
  expect(codesOf(barOf({ ...TALLOW, superfatPercent: -0.1 }))).toEqual(['value-out-of-range /superfatPercent']);
});

propTest.prop([fc.integer({ min: 10_000, max: 5_000_000 }), fc.integer({ min: 0, max: 20 }), fc.integer({ min: 10, max: 60 })])(
  'mass is kept: soap, glycerol, free fat and the rest are the batter without water',
  (fatMg, superfatPercent, waterShare) => {
    const needMg = fatMg * 0.19;
    const bar = valueOf(
      barOf({
        needMg,
        glycerideNeedMg: needMg,
        superfatPercent,
        fatMg,
        alkaliMg: needMg * 0.7129 * (1 - superfatPercent / 100),
        impuritiesMg: 0,
        waterMg: (fatMg * waterShare) / 100,
        otherMg: 1000,
      }),
    );
    expect(bar.soapMg + bar.glycerolMg + bar.freeFatMg + 1000).toBeCloseTo(bar.solidsMg, 3);
    expect(bar.curedMg.low).toBeLessThanOrEqual(bar.curedMg.nominal);
    expect(bar.curedMg.high).toBeLessThanOrEqual(bar.pouredMg);
  },
);
