import { expect, test } from 'vitest';
import { FATS } from './fats.ts';
import { formulate } from './formulate.ts';
import { PLAIN_RECIPE, PURE, valueOf } from './testing.ts';

/**
 * Saponification values, mg KOH/g: Codex CXS 210-1999 (rev. 2022) Table 2, typed here a second time;
 * palm kernel and its fractions, olein, stearin, superolein, groundnut, safflower, grapeseed and
 * hazelnut from memory.
 */
const CODEX: Record<string, readonly [number, number]> = {
  coconut: [248, 265],
  palm: [190, 209],
  palm_kernel: [230, 254],
  palm_olein: [194, 202],
  palm_stearin: [193, 205],
  palm_superolein: [180, 205],
  palm_kernel_olein: [231, 244],
  palm_kernel_stearin: [244, 255],
  palm_high_oleic: [189, 199],
  sunflower: [187, 194],
  sunflower_high_oleic: [182, 194],
  soybean: [189, 195],
  rapeseed_low_erucic: [182, 193],
  cottonseed: [189, 198],
  maize: [187, 195],
  peanut: [187, 196],
  sesame: [186, 195],
  safflower: [186, 198],
  safflower_high_oleic: [186, 194],
  grapeseed: [188, 194],
  rice_bran: [180, 199],
  babassu: [245, 256],
  hazelnut: [188, 197],
  walnut: [189, 198],
  flaxseed: [185, 197],
};

test('the table covers every fat the catalogue takes from CXS 210', () => {
  const keys = FATS.filter((fat) => fat.source.startsWith('Codex CXS 210')).map((fat) => fat.key);
  expect(keys.sort()).toEqual(Object.keys(CODEX).sort());
});

test.each(Object.entries(CODEX))('alkali for 1 kg of %s alone lies within its Codex range, for NaOH and KOH', (fatKey, [low, high]) => {
  const recipe = { ...PLAIN_RECIPE, fats: [{ fatKey, sharePercent: 100 }], superfatPercent: 0, superfatFloorPercent: 0 };
  const sodium = valueOf(formulate(recipe, PURE)).alkaliMassMg / 1000;
  const potassium = valueOf(formulate({ ...recipe, alkali: { kohSharePercent: 100 } }, PURE)).alkaliMassMg / 1000;
  expect(sodium).toBeGreaterThan(low * 0.71289);
  expect(sodium).toBeLessThan(high * 0.71289);
  expect(potassium).toBeGreaterThan(low);
  expect(potassium).toBeLessThan(high);
  expect(sodium / potassium).toBeCloseTo(39.9968 / 56.1053, 4);
});
