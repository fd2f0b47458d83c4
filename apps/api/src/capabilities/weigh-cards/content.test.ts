import fc from 'fast-check';
import { CardContent } from '@ashwater/contracts';
import { describe, expect, test } from 'vitest';
import { soundDraft } from '../../testing/drafts.ts';
import { cardContent } from './content.ts';
import { planStation, purityOf } from './plan-station.ts';
import type { LotPurity, StationSetUp } from './plan-station.ts';

const STATION: StationSetUp = { name: 'Station 1', scaleStepMg: 1000, scaleCapacityMg: 5_000_000, mouldName: 'Loaf', mouldVolumeMl: 1100 };
const LOT: LotPurity = { substance: 'NaOH', lotNumber: 'L-1', purityPercent: 99, purityUncertaintyPercent: 0.5 };
const GEAR = [{ key: 'goggles', name: 'Splash goggles', check: 'sealed' }];
const FRAME = { recipeTitle: 'Plain', recipeVersionNumber: 1, classTitle: 'Saturday', startsAt: '2026-03-07T10:00:00.000Z', room: 'Back' };
function cardOf(change: Parameters<typeof soundDraft>[0] = {}, lots: LotPurity[] = [LOT], station: Partial<StationSetUp> = {}) {
  const setUp = { ...STATION, ...station };
  const planned = planStation(soundDraft(change), lots, setUp);
  if (!planned.ok) throw new Error(JSON.stringify(planned.problems));
  return cardContent(planned.value, setUp, FRAME, lots, GEAR);
}

describe('purity', () => {
  test('a lot’s certificate is used for its own substance only; without one the range is wide', () => {
    const purity = purityOf([LOT]);
    expect(purity.naohPercent).toEqual({ low: 98.5, nominal: 99, high: 99.5 });
    expect(purity.kohPercent).toEqual(purityOf([]).kohPercent);
    expect(purityOf([]).naohPercent.high - purityOf([]).naohPercent.low).toBeGreaterThan(1);
  });
  test('no caustic is purer than pure, and none is nothing', () => {
    expect(purityOf([{ ...LOT, purityPercent: 99.9, purityUncertaintyPercent: 1 }]).naohPercent.high).toBe(100);
    expect(purityOf([{ ...LOT, purityPercent: 0.2, purityUncertaintyPercent: 0.2 }]).naohPercent.low).toBeGreaterThan(0);
  });
});

describe('the frozen card', () => {
  test('carries the station, the frame and the lot it was planned with', () => {
    expect(cardOf()).toMatchObject({
      ...FRAME,
      stationName: 'Station 1',
      scaleStepMg: 1000,
      mouldVolumeMl: 1100,
      lots: [{ substance: 'NaOH', lotNumber: 'L-1', purityPercent: 99 }],
      superfatAimPercent: 8,
      gear: GEAR,
    });
  });
  test('its solution is what goes into the container: every line but fats and additives', () => {
    const card = cardOf({
      liquids: [{ liquidKey: 'goat_milk', shareOfWaterPercent: '30' }],
      additives: [{ name: 'Oats', shareOfFatPercent: '2', limitPercent: '' }],
    });
    const byKind = (kinds: string[]) => card.lines.filter((line) => kinds.includes(line.kind)).reduce((sum, line) => sum + line.targetMg, 0);
    expect(card.solutionMassMg).toBe(byKind(['naoh', 'koh', 'water', 'ice', 'liquid']));
    expect(card.solutionMassMg).toBeLessThan(byKind(['naoh', 'koh', 'water', 'ice', 'liquid', 'fat', 'additive']));
  });
  test('says danger for a caustic solution, in the words of its kind', () => {
    // CLP Annex VI: sodium hydroxide of 5 % and more is Skin Corr. 1A, H314, signal word Danger
    expect(cardOf().hazard).toMatchObject({ signalWord: 'Danger', statements: expect.arrayContaining([expect.objectContaining({ code: 'H314' })]) });
  });
  test('says the likely range inside the worst case, and what widens it most', () => {
    const { likelySuperfatPercent: likely, superfatBandPercent: band, contributions } = cardOf();
    expect(likely!.low).toBeGreaterThanOrEqual(band.low);
    expect(likely!.high).toBeLessThanOrEqual(band.high);
    expect(contributions).toHaveLength(3);
    expect(contributions![0]).toMatch(/^saponification value of .+, \d+ % of the variance$/u);
  });
  test('knows its solution: a 33 % one is 1.36 g/mL at 20 °C (CRC Handbook, 32 %: 1.349; 34 %: 1.370, from memory)', () => {
    const card = cardOf({ lyeConcentrationPercent: '33' });
    expect(card.potConcentrationPercent).toBeCloseTo(33, 0);
    expect(card.solutionDensityGPerMl).toBeCloseTo(1.36, 1);
    expect(card.solutionVolumeMl! * card.solutionDensityGPerMl!).toBeCloseTo(card.solutionMassMg / 1000, -1);
    expect([card.iceWords, ...card.coolingWords!].join(' ')).toMatch(/60 °C.+in still air.+in water bath/u);
  });
  test('holds what a jar’s label says, and that the supplier comes first', () => {
    const { label } = cardOf();
    expect(label!.precautions.map(({ code }) => code)).toContain('P305+P351+P338');
    expect(label!.us.signalWord).toBe('Danger');
    expect(label!.supplierFirst).toMatch(/^Follow the supplier's safety data sheet/u);
  });
  test('liquid for the fats is no part of the solution, and makes the pot stronger than the recipe', () => {
    const card = cardOf({ liquids: [{ liquidKey: 'goat_milk', shareOfWaterPercent: '30', intoFatsPercent: '100' }] });
    expect(card.potConcentrationPercent!).toBeGreaterThan(card.lyeConcentrationPercent + 3);
    expect(card.solutionMassMg).toBe(card.lines.filter(({ kind }) => ['naoh', 'water', 'ice'].includes(kind)).reduce((sum, line) => sum + line.targetMg, 0));
  });
  test('a card issued before all this still reads', () => {
    const { likelySuperfatPercent, contributions, potConcentrationPercent, solutionDensityGPerMl, solutionVolumeMl, iceWords, coolingWords, label, ...old } =
      cardOf();
    const added = [likelySuperfatPercent, contributions, potConcentrationPercent, solutionDensityGPerMl, solutionVolumeMl, iceWords, coolingWords, label];
    expect(added).not.toContain(undefined);
    expect(CardContent.parse(old)).toEqual(old);
  });
  test('is refused with every reason when the scale is too coarse or too small', () => {
    for (const station of [{ scaleStepMg: 50_000 }, { scaleCapacityMg: 100_000 }]) {
      const planned = planStation(soundDraft(), [LOT], { ...STATION, ...station });
      expect(planned.ok ? 'issued' : planned.problems.map((problem) => problem.detail).join()).toMatch(/scale/i);
    }
  });
  test('never lets through a band below the floor, whatever scale, mould, superfat and lot', () => {
    const station = fc.record({ scaleStepMg: fc.constantFrom(100, 500, 1000, 2000, 5000), mouldVolumeMl: fc.integer({ min: 200, max: 3000 }) });
    const lot = fc.record({ purityPercent: fc.integer({ min: 90, max: 100 }), purityUncertaintyPercent: fc.integer({ min: 0, max: 5 }) });
    let issued = 0;
    fc.assert(
      fc.property(station, lot, fc.integer({ min: 0, max: 12 }), (set, purity, superfat) => {
        const planned = planStation(soundDraft({ superfatPercent: String(superfat) }), [{ ...LOT, ...purity }], { ...STATION, ...set });
        if (!planned.ok) return;
        issued += 1;
        expect(planned.value.plan.superfatBandPercent.low).toBeGreaterThanOrEqual(0.5);
      }),
    );
    expect(issued).toBeGreaterThan(5);
  });
});
