import { expect, test } from 'vitest';
import { asStated, bandInput } from './figures.ts';
import { formulate } from './formulate.ts';
import type { Interval } from './outcome.ts';
import type { PeakTemperature, Purity, RecipeInput } from './recipe.ts';
import { PURITY_WITHOUT_CERTIFICATE } from './recipe.ts';
import type { BandInput } from './superfat-band.ts';
import { exactly } from './superfat-band.ts';
import { CERTIFIED, PLAIN_RECIPE, PURE, valueOf } from './testing.ts';
import { warningsFor } from './warnings.ts';

/** What decides a warning, set by hand on an otherwise plain recipe. */
type Decides = { peak?: Partial<PeakTemperature>; potConcentrationPercent?: number; purity?: Purity; input?: Partial<BandInput> };

const FORMULA = valueOf(formulate(PLAIN_RECIPE, CERTIFIED));

function warned(change: Partial<RecipeInput>, set: Decides = {}) {
  const recipe = { ...PLAIN_RECIPE, ...change };
  const purity = set.purity ?? CERTIFIED;
  const figures = {
    ...FORMULA,
    potConcentrationPercent: set.potConcentrationPercent ?? FORMULA.potConcentrationPercent,
    peak: { ...FORMULA.peak, ...set.peak },
  };
  const input = { ...bandInput(recipe, purity, FORMULA.lines, asStated), ...set.input };
  return warningsFor({ recipe, purity, lines: FORMULA.lines, figures, input });
}
const codes = (...given: Parameters<typeof warned>) => warned(...given).map((warning) => warning.code);
const said = (...given: Parameters<typeof warned>) => warned(...given)[0]?.detail;

/** A band of one fat that needs 100 mg of KOH, and of as much of it as is given: superfat is 100 less the milligrams. */
const band = (kohMg: Interval, more: Partial<BandInput> = {}): Partial<BandInput> => ({
  fats: [{ massMg: exactly(1000), saponificationValue: exactly(100) }],
  naohMg: exactly(0),
  kohMg,
  purity: PURE,
  ...more,
});

test('near boiling is from 90 C on; an upper bound is said as one', () => {
  expect(codes({}, { peak: { temperatureC: 89.9 } })).toEqual([]);
  expect(codes({}, { peak: { temperatureC: 90 } })).toEqual(['near-boiling']);
  expect(said({}, { peak: { temperatureC: 90.2, kind: 'estimate' } })).toMatch(/may reach about 91 °C/u);
  expect(said({}, { peak: { temperatureC: 90.2, kind: 'upper bound' } })).toMatch(/may reach at most 91 °C/u);
});

test('at the limit of temperature nothing is said, above it both figures are', () => {
  const over = (temperatureC: number, kind: PeakTemperature['kind']) => said({ peakLimitC: 60 }, { peak: { temperatureC, kind } });
  expect(over(60, 'estimate')).toBeUndefined();
  expect(over(60.1, 'estimate')).toMatch(/^The solution may reach about 61 °C, above the 60 °C to stay under\./u);
  expect(over(60.1, 'upper bound')).toMatch(/^The solution may reach at most 61 °C, above/u);
});

test('a concentration from 22 to 40 %, both included, is not remarked on', () => {
  expect([codes({}, { potConcentrationPercent: 22 }), codes({}, { potConcentrationPercent: 40 })]).toEqual([[], []]);
  expect(warned({}, { potConcentrationPercent: 40.1 })).toMatchObject([{ code: 'high-concentration', detail: expect.stringContaining('40.1 %') }]);
  expect(warned({}, { potConcentrationPercent: 21.9 })).toMatchObject([{ code: 'low-concentration', detail: expect.stringContaining('21.9 %') }]);
});

test('only the alkali in use needs a certificate, and only the whole assumed range counts as none', () => {
  const { naohPercent, kohPercent } = PURITY_WITHOUT_CERTIFICATE;
  const asked = (kohSharePercent: number, purity: Partial<Purity>) =>
    codes({ alkali: { kohSharePercent } }, { purity: { ...CERTIFIED, ...purity }, input: band(exactly(90)) }).includes('purity-without-certificate');
  expect([0, 40, 100].map((share) => asked(share, { naohPercent }))).toEqual([true, true, false]);
  expect([0, 40, 100].map((share) => asked(share, { kohPercent }))).toEqual([false, true, true]);
  expect([0, 40, 100].map((share) => asked(share, {}))).toEqual([false, false, false]);
  // A certificate that shares one end with the assumed 97 to 100 %.
  expect(asked(0, { naohPercent: { low: 97, nominal: 98.5, high: 99.5 } })).toBe(false);
  expect(asked(0, { naohPercent: { low: 98.5, nominal: 99, high: 100 } })).toBe(false);
});

test('a certificate may leave the range of its fat by a twentieth either way', () => {
  const of = (valueMgKohPerG: number) => {
    const own = { name: 'Our tallow', saponificationValue: { low: 100, high: 200 } };
    const fats = [{ fatKey: 'own:1', sharePercent: 100, own, certificateSv: { valueMgKohPerG, expandedUncertainty: 0 } }];
    return warned({ fats }, { input: band(exactly(90)) });
  };
  // By hand: 95 % of 100 and 105 % of 200.
  expect([of(95), of(150), of(210)]).toEqual([[], [], []]);
  expect(of(94.9)).toMatchObject([
    { code: 'certificate-outside-range', detail: expect.stringContaining('94.9 mg/g for Our tallow; published are 100 to 200.') },
  ]);
  expect(of(210.1)).toMatchObject([{ code: 'certificate-outside-range', detail: expect.stringContaining('210.1 mg/g') }]);
});

test('late fats are named; a base that ends at exactly 0 % is not called lye, a hair under it is', () => {
  const fats = [
    { fatKey: 'olive', sharePercent: 50 },
    { fatKey: 'coconut', sharePercent: 30, late: true },
    { fatKey: 'sheep_fat_of_nobody', sharePercent: 20, late: true },
  ];
  const of = (baseMg: number) => {
    const each = [baseMg, 300, 200].map((massMg) => ({ massMg: exactly(massMg), saponificationValue: exactly(100) }));
    return said({ fats }, { input: band(exactly(50), { fats: each }) });
  };
  // 50 mg of KOH for bases that need 50 and 49.9 mg; with 50 mg more from the late fats 50 % is left of the first.
  expect(of(500)).toBe('Of the superfat 50 points are Coconut oil and sheep_fat_of_nobody, stirred in last; without it 0 % is left.');
  expect(of(499)).toMatch(/^Until Coconut oil and sheep_fat_of_nobody is stirred in, .*treat it as lye/u);
});

test('acids that take lye are named, salts are not, and what is left without them is judged at exactly 0 %', () => {
  const strengthPercent = exactly(100);
  const acids = ['citric_acid', 'salt', 'lactic_acid', 'acid_of_nobody'].map((acidKey) => ({ acidKey, shareOfFatPercent: 1, strengthPercent }));
  const of = (kohMg: number, used = acids) =>
    warned({ acids: used }, { input: band(exactly(kohMg), { acids: [{ massMg: exactly(10), takesKohPerMg: exactly(0.9) }] }) });
  const [left] = of(100);
  expect(left?.code).toBe('acid-before-lye');
  expect(left?.detail).toMatch(/^The alkali holds extra for citric acid, anhydrous and lactic acid: .*without it as little as 0 % superfat is left\.$/u);
  expect(of(100.1)[0]?.detail).toMatch(/for without it the soap can hold free alkali\.$/u);
  expect(of(90, acids.slice(1, 2))).toEqual([]);
});

test('a band of 10 points is not wide, more is, and its width is said', () => {
  expect(codes({}, { input: band({ low: 65, nominal: 70, high: 75 }) })).toEqual([]);
  // 100 - 75.5 = 24.5 to 100 - 65 = 35 %.
  expect(warned({}, { input: band({ low: 65, nominal: 70, high: 75.5 }) })).toMatchObject([
    { code: 'wide-superfat-band', detail: expect.stringMatching(/^The superfat band is 10\.5 points wide;/u) },
  ]);
});

test('a stored recipe with a fat and a liquid of no list is still warned of, by what is known', () => {
  const fats = [{ fatKey: 'fat_of_nobody', sharePercent: 100 }];
  const liquids = ['liquid_of_nobody', 'tea', 'beer'].map((liquidKey) => ({ liquidKey, shareOfWaterPercent: 10 }));
  const found = warned({ fats, liquids }, { input: band(exactly(90)) });
  // Tea has no caution, beer two.
  expect(found.map((warning) => warning.code)).toEqual(['liquid-caution', 'liquid-caution']);
  expect(found.every((warning) => warning.detail.startsWith('Beer: '))).toBe(true);
});
