import { expect, test } from 'vitest';
import { massOf } from './masses.ts';
import { PURITY_WITHOUT_CERTIFICATE } from './recipe.ts';
import { scaleToMould } from './scale-to-mould.ts';
import { CERTIFIED, PLAIN_RECIPE, codesOf, detailsOf, valueOf } from './testing.ts';
import { planWeighing } from './weigh-plan.ts';

const MOULD = { volumeMl: 1300 };
const GRAM = { stepMg: 1000, capacityMg: 5_000_000 };
const TENTH = { stepMg: 100, capacityMg: 3_000_000 };

test('every target is a whole number of steps, and alkali is never above the exact mass', () => {
  const plan = valueOf(planWeighing(PLAIN_RECIPE, CERTIFIED, MOULD, GRAM));
  const exact = valueOf(scaleToMould(PLAIN_RECIPE, CERTIFIED, MOULD));
  for (const line of plan.lines) {
    expect(line.targetMg % 1000).toBe(0);
    expect(line.exactMg).toBe(massOf(exact.lines, line.key));
    // Fats and alkali are chosen together, nearest the aim, so a fat may stand at either neighbouring step.
    const most = { naoh: 2000, fat: 1000 }[line.kind as string] ?? 501;
    expect(Math.abs(line.targetMg - line.exactMg)).toBeLessThan(most);
  }
  const naoh = plan.lines.find((line) => line.key === 'naoh');
  expect(naoh?.targetMg).toBeLessThanOrEqual(naoh?.exactMg ?? 0);
  expect(naoh?.acceptHighMg).toBe(naoh?.targetMg);
});

test('rounding raises the nominal superfat, and the sentence says the target and the band', () => {
  const plan = valueOf(planWeighing(PLAIN_RECIPE, CERTIFIED, MOULD, GRAM));
  const grams = massOf(plan.lines, 'naoh') / 1000;
  expect(plan.roundingEffectPercent).toBeGreaterThan(0);
  expect(plan.roundingEffectPercent).toBeLessThan(100 / grams);
  expect(plan.superfatBandPercent.nominal).toBeCloseTo(8 + plan.roundingEffectPercent, 9);
  expect(plan.words).toMatch(new RegExp(`^Sodium hydroxide rounded down to ${grams}\\u00a0g; superfat between [\\d.]+ and [\\d.]+ %$`, 'u'));
});

test('a finer scale gives a narrower band', () => {
  const width = (scale: typeof GRAM): number => {
    const band = valueOf(planWeighing(PLAIN_RECIPE, CERTIFIED, MOULD, scale)).superfatBandPercent;
    return band.high - band.low;
  };
  expect(width(TENTH)).toBeLessThan(width(GRAM));
});

test('a band under the floor is refused with the worst cause and an aim that then passes', () => {
  const tight = { ...PLAIN_RECIPE, superfatPercent: 4 };
  const refused = planWeighing(tight, PURITY_WITHOUT_CERTIFICATE, MOULD, GRAM);
  expect(codesOf(refused)).toEqual(['superfat-band-below-floor /superfatPercent']);
  expect(detailsOf(refused)[0]).toMatch(/can hold free alkali.*oil variability takes [\d.]+ points.*Aim for [\d.]+ %/u);
  const fields = refused.ok ? undefined : refused.problems[0]?.fields;
  expect(fields?.worstCause).toBe('oil variability');
  const needed = Number(fields?.neededAimPercent);
  const raised = { ...tight, superfatPercent: needed };
  const almost = { ...tight, superfatPercent: needed - 1.5 };
  expect(codesOf(planWeighing(almost, PURITY_WITHOUT_CERTIFICATE, MOULD, GRAM))).toEqual(['superfat-band-below-floor /superfatPercent']);
  expect(valueOf(planWeighing(raised, PURITY_WITHOUT_CERTIFICATE, MOULD, GRAM)).superfatBandPercent.low).toBeGreaterThanOrEqual(0.5);
});

test('certificates for the oils let a lower superfat through', () => {
  const certified = {
    ...PLAIN_RECIPE,
    superfatPercent: 4,
    fats: [
      { fatKey: 'olive', sharePercent: 70, certificateSv: { valueMgKohPerG: 190, expandedUncertainty: 1 } },
      { fatKey: 'coconut', sharePercent: 30, certificateSv: { valueMgKohPerG: 257, expandedUncertainty: 1.5 } },
    ],
  };
  expect(codesOf(planWeighing({ ...PLAIN_RECIPE, superfatPercent: 4 }, CERTIFIED, MOULD, TENTH))).toEqual(['superfat-band-below-floor /superfatPercent']);
  expect(valueOf(planWeighing(certified, CERTIFIED, MOULD, TENTH)).superfatBandPercent.low).toBeGreaterThan(1);
});

test('a scale too coarse for the alkali is refused, with the step that would do', () => {
  const refused = planWeighing(PLAIN_RECIPE, CERTIFIED, { volumeMl: 120 }, GRAM);
  expect(codesOf(refused)).toContain('scale-step-too-coarse /scale/stepMg');
  expect(detailsOf(refused).join()).toMatch(
    /Sodium hydroxide is 1\d\.\d+\u00a0g, fewer than 20 steps of 1\u00a0g: use a scale with steps of 0\.\d+ g or finer/u,
  );
});

test('a line past the capacity is refused', () => {
  const small = { stepMg: 100, capacityMg: 300_000 };
  expect(codesOf(planWeighing(PLAIN_RECIPE, CERTIFIED, MOULD, small))).toContain('over-scale-capacity /scale/capacityMg');
});

test.each([0, -1, NaN, Infinity, 0.5, 1000.5])('a scale step of %d mg is refused', (stepMg) => {
  expect(codesOf(planWeighing(PLAIN_RECIPE, CERTIFIED, MOULD, { stepMg, capacityMg: 5_000_000 }))).toEqual(['value-out-of-range /scale/stepMg']);
});

test('no accepted reading of a limited additive passes its limit', () => {
  const recipe = { ...PLAIN_RECIPE, additives: [{ name: 'Lavender oil', shareOfFatPercent: 3, limitPercent: 3 }] };
  const plan = valueOf(planWeighing(recipe, CERTIFIED, MOULD, GRAM));
  const exact = valueOf(scaleToMould(recipe, CERTIFIED, MOULD));
  const additive = plan.lines.find((line) => line.key === 'additive:0');
  expect(additive?.acceptHighMg).toBeLessThanOrEqual(exact.fatMassMg * 0.03);
  expect(additive?.targetMg).toBeGreaterThan(0);
});
