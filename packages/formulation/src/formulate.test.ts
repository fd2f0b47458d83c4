import { expect, test } from 'vitest';
import { formulate } from './formulate.ts';
import { massOf } from './masses.ts';
import { peakTemperature } from './peak-temperature.ts';
import { PURITY_WITHOUT_CERTIFICATE } from './recipe.ts';
import type { RecipeInput } from './recipe.ts';
import { CERTIFIED, PLAIN_RECIPE, PURE, codesOf, detailsOf, valueOf } from './testing.ts';

const change = (part: Partial<RecipeInput>): RecipeInput => ({ ...PLAIN_RECIPE, ...part });
const codes = (part: Partial<RecipeInput>): string[] => codesOf(formulate(change(part), CERTIFIED));

test('1 kg of olive oil with SV 190, 5 % superfat, pure alkali, by hand: 1000 x 0.190 x 0.95 x 39.997/56.105 = 128.68 g', () => {
  const olive = change({ fats: [{ fatKey: 'olive', sharePercent: 100 }], superfatPercent: 5 });
  const formula = valueOf(formulate(olive, PURE));
  expect(massOf(formula.lines, 'naoh') / 1000).toBeCloseTo(128.68, 2);
  expect(massOf(formula.lines, 'fat:olive')).toBe(1_000_000);
  expect(formula.superfatBandPercent.nominal).toBeCloseTo(5, 3);
  // The Codex range alone: 1 - 0.95 x 190/184 and 1 - 0.95 x 190/196.
  expect(formula.superfatBandPercent.low).toBeCloseTo(100 * (1 - (0.95 * 190) / 184), 3);
  expect(formula.superfatBandPercent.high).toBeCloseTo(100 * (1 - (0.95 * 190) / 196), 3);
});

test('a certificate replaces the published range', () => {
  const fats = [{ fatKey: 'olive', sharePercent: 100, certificateSv: { valueMgKohPerG: 188, expandedUncertainty: 1 } }];
  const formula = valueOf(formulate(change({ fats, superfatPercent: 5 }), PURE));
  expect(massOf(formula.lines, 'naoh') / 1000).toBeCloseTo(188 * 0.95 * 0.71289, 1);
  expect(formula.superfatBandPercent.low).toBeCloseTo(100 * (1 - (0.95 * 188) / 187), 2);
});

test('water, ice and concentration agree: 33 % lye, half of the plain water ice', () => {
  const formula = valueOf(formulate(PLAIN_RECIPE, CERTIFIED));
  expect(formula.waterMassMg / formula.alkaliMassMg).toBeCloseTo(67 / 33, 4);
  expect(formula.iceMassMg).toBe(massOf(formula.lines, 'ice'));
  expect(formula.iceMassMg / formula.waterMassMg).toBeCloseTo(0.5, 4);
  expect(formula.lyeConcentrationPercent).toBeCloseTo(33, 3);
  expect(formula.lines.reduce((sum, line) => sum + line.massMg, 0)).toBe(formula.batchMassMg);
});

test('goat milk of 86.4 % water (FAO 1949, item 256) for half of the water weighs 1/0.864 of it', () => {
  const formula = valueOf(formulate(change({ liquids: [{ liquidKey: 'goat_milk', shareOfWaterPercent: 50 }] }), CERTIFIED));
  expect((massOf(formula.lines, 'liquid:goat_milk') * 0.864) / formula.waterMassMg).toBeCloseTo(0.5, 4);
  expect(formula.iceMassMg / formula.waterMassMg).toBeCloseTo(0.25, 4);
  expect(formula.warnings.some((warning) => warning.code === 'liquid-caution')).toBe(true);
});

test('dual alkali: each share of the need by its own hydroxide and purity', () => {
  const formula = valueOf(formulate(change({ alkali: { kohSharePercent: 40 } }), CERTIFIED));
  const naoh = massOf(formula.lines, 'naoh') * 0.99;
  const koh = massOf(formula.lines, 'koh') * 0.9;
  expect(koh / (koh + naoh / 0.71289)).toBeCloseTo(0.4, 4);
  expect(formula.peak.kind).toBe('upper bound');
});

test('the sum of the fats is said with figures', () => {
  const fats = [
    { fatKey: 'olive', sharePercent: 68 },
    { fatKey: 'coconut', sharePercent: 30 },
  ];
  expect(detailsOf(formulate(change({ fats }), CERTIFIED))).toEqual(['The fats sum to 98 %; add 2 % more or change a share.']);
});

test('three thirds of 33.33 pass, 33.3 do not', () => {
  const thirds = (sharePercent: number) => ['olive', 'coconut', 'palm'].map((fatKey) => ({ fatKey, sharePercent }));
  expect(codes({ fats: thirds(33.33) })).toEqual([]);
  expect(codes({ fats: thirds(33.3) })).toEqual(['fats-do-not-sum /fats']);
  expect(Math.abs(valueOf(formulate(change({ fats: thirds(33.33) }), CERTIFIED)).fatMassMg - 1_000_000)).toBeLessThanOrEqual(2);
});

test.each<[string, Partial<RecipeInput>, string]>([
  ['no fat', { fats: [] }, 'value-missing /fats'],
  ['unknown fat', { fats: [{ fatKey: 'engine', sharePercent: 100 }] }, 'fat-unknown /fats/0/fatKey'],
  [
    'fat twice',
    {
      fats: [
        { fatKey: 'olive', sharePercent: 50 },
        { fatKey: 'olive', sharePercent: 50 },
      ],
    },
    'fat-twice /fats/1/fatKey',
  ],
  [
    'certificate far off',
    { fats: [{ fatKey: 'olive', sharePercent: 100, certificateSv: { valueMgKohPerG: 19, expandedUncertainty: 1 } }] },
    'value-out-of-range /fats/0/certificateSv/valueMgKohPerG',
  ],
  ['absurd superfat', { superfatPercent: 60 }, 'value-out-of-range /superfatPercent'],
  ['negative floor', { superfatFloorPercent: -1 }, 'value-out-of-range /superfatFloorPercent'],
  ['floor over aim', { superfatPercent: 2, superfatFloorPercent: 3 }, 'value-out-of-range /superfatFloorPercent'],
  ['KOH share 101', { alkali: { kohSharePercent: 101 } }, 'value-out-of-range /alkali/kohSharePercent'],
  ['lye 53 %', { lyeConcentrationPercent: 53 }, 'concentration-past-solubility /lyeConcentrationPercent'],
  ['lye 0 %', { lyeConcentrationPercent: 0 }, 'value-out-of-range /lyeConcentrationPercent'],
  ['lye infinite', { lyeConcentrationPercent: Infinity }, 'value-out-of-range /lyeConcentrationPercent'],
  ['ice 101 %', { iceSharePercent: 101 }, 'ice-over-water /iceSharePercent'],
  ['ice not a number', { iceSharePercent: NaN }, 'value-out-of-range /iceSharePercent'],
  ['boiling water', { waterTemperatureC: 95 }, 'value-out-of-range /waterTemperatureC'],
  ['warm ice', { iceTemperatureC: 4 }, 'value-out-of-range /iceTemperatureC'],
  ['unknown liquid', { liquids: [{ liquidKey: 'petrol', shareOfWaterPercent: 10 }] }, 'liquid-unknown /liquids/0/liquidKey'],
  [
    'liquid twice',
    {
      liquids: [
        { liquidKey: 'tea', shareOfWaterPercent: 10 },
        { liquidKey: 'tea', shareOfWaterPercent: 10 },
      ],
    },
    'liquid-twice /liquids/1/liquidKey',
  ],
  [
    'liquids over the water',
    {
      liquids: [
        { liquidKey: 'tea', shareOfWaterPercent: 70 },
        { liquidKey: 'beer', shareOfWaterPercent: 40 },
      ],
    },
    'value-out-of-range /liquids',
  ],
  [
    'additive over its limit',
    { additives: [{ name: 'Lavender oil', shareOfFatPercent: 3.5, limitPercent: 3 }] },
    'additive-over-limit /additives/0/shareOfFatPercent',
  ],
  ['nameless additive', { additives: [{ name: '  ', shareOfFatPercent: 3 }] }, 'value-missing /additives/0/name'],
])('%s is refused with its pointer', (_name, part, expected) => {
  expect(codes(part)).toEqual([expected]);
});

test('all problems are found at once, in the order of the recipe', () => {
  expect(codes({ fats: [{ fatKey: 'engine', sharePercent: 90 }], superfatPercent: NaN, iceSharePercent: 150 })).toEqual([
    'fat-unknown /fats/0/fatKey',
    'fats-do-not-sum /fats',
    'value-out-of-range /superfatPercent',
    'ice-over-water /iceSharePercent',
  ]);
});

test.each([0, -1, NaN, Infinity, 9_999, 100_000_001])('a fat mass of %d mg is refused', (fatMassMg) => {
  expect(codesOf(formulate(PLAIN_RECIPE, CERTIFIED, fatMassMg))).toEqual(['value-out-of-range /fatMassMg']);
});

test('purity over 100 % or out of order is refused', () => {
  const over = { ...CERTIFIED, naohPercent: { low: 98, nominal: 99, high: 101 } };
  const crossed = { ...CERTIFIED, kohPercent: { low: 90, nominal: 89, high: 91 } };
  expect(codesOf(formulate(PLAIN_RECIPE, over))).toEqual(['value-out-of-range /purity/naohPercent/high']);
  expect(codesOf(formulate(PLAIN_RECIPE, crossed))).toEqual(['value-out-of-range /purity/kohPercent']);
  const over90 = { ...CERTIFIED, kohPercent: { low: 89, nominal: 92, high: 91 } };
  expect(codesOf(formulate(PLAIN_RECIPE, over90))).toEqual(['value-out-of-range /purity/kohPercent']);
});

test('a band under the floor is a warning here, for no card can come of it', () => {
  const tight = valueOf(formulate(change({ superfatPercent: 3 }), PURITY_WITHOUT_CERTIFICATE));
  const found = tight.warnings.map((warning) => warning.code);
  expect(found).toContain('superfat-band-below-floor');
  expect(found).toContain('purity-without-certificate');
  expect(valueOf(formulate(PLAIN_RECIPE, CERTIFIED)).warnings.map((warning) => warning.code)).toEqual([]);
});

test('no ice asks for a respirator and says the temperature', () => {
  const warnings = valueOf(formulate(change({ iceSharePercent: 0 }), CERTIFIED)).warnings;
  expect(warnings.find((warning) => warning.code === 'no-ice')?.detail).toMatch(/about 1\d\d °C.*respirator/u);
  expect(warnings.map((warning) => warning.code)).toContain('near-boiling');
});

test('the peak of a recipe is that of its own masses of lye, water and ice', () => {
  const { lines, peak } = valueOf(formulate(PLAIN_RECIPE, CERTIFIED));
  const direct = peakTemperature({
    naohMg: massOf(lines, 'naoh'),
    kohMg: 0,
    waterMg: massOf(lines, 'water'),
    waterTemperatureC: 20,
    iceMg: massOf(lines, 'ice'),
    iceTemperatureC: -10,
  });
  expect(peak).toEqual(direct);
});

test('milk for all of the water heats like water without ice, and its dry matter adds to the volume', () => {
  const milk = valueOf(formulate(change({ liquids: [{ liquidKey: 'goat_milk', shareOfWaterPercent: 100 }] }), CERTIFIED));
  const water = valueOf(formulate(change({ iceSharePercent: 0 }), CERTIFIED));
  expect(milk.peak.temperatureC).toBeCloseTo(water.peak.temperatureC, 2);
  const dryG = (massOf(milk.lines, 'liquid:goat_milk') / 1000) * 0.136;
  expect(milk.volumeMl.nominal - water.volumeMl.nominal).toBeCloseTo(dryG / 1.3, 1);
});

test.each<[string, Partial<RecipeInput>]>([
  ['ice-left', { lyeConcentrationPercent: 15, iceSharePercent: 100 }],
  ['low-concentration', { lyeConcentrationPercent: 20 }],
  ['high-concentration', { lyeConcentrationPercent: 45 }],
  [
    'wax',
    {
      fats: [
        { fatKey: 'olive', sharePercent: 90 },
        { fatKey: 'jojoba', sharePercent: 10 },
      ],
    },
  ],
  ['wide-superfat-band', { fats: [{ fatKey: 'shea', sharePercent: 100 }] }],
])('the warning %s appears when it should, and not for the plain recipe', (code, part) => {
  const of = (recipe: RecipeInput): string[] => valueOf(formulate(recipe, CERTIFIED)).warnings.map((warning) => warning.code);
  expect(of(change(part))).toContain(code);
  expect(of(PLAIN_RECIPE)).not.toContain(code);
});
