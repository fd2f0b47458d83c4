import * as formulation from './index.ts';
import type { Mould, RecipeInput, Scale } from './index.ts';
import { CERTIFIED, PLAIN_RECIPE, valueOf } from './testing.ts';

/**
 * For tests only: a good call of an exported function; every number in `input` is an argument of it or in one. The first `checked`
 * arguments are by its docstring those of a formula or plan that was worked out, and so were checked: with others it must not
 * throw, and no more is promised.
 */
export type Call = { name: keyof typeof formulation; input: unknown[]; call: (...input: never[]) => unknown; checked?: number };

/** Keeps the types of the function beside its good input; inside, the input is changed at will. */
function calls<A extends unknown[]>(name: keyof typeof formulation, call: (...input: A) => unknown, ...input: A): Call {
  return { name, input, call: call as (...input: never[]) => unknown };
}

/** A recipe that says everything a recipe can say. */
export const FULL_RECIPE: RecipeInput = {
  ...PLAIN_RECIPE,
  fats: [
    { fatKey: 'olive', sharePercent: 50, certificateSv: { valueMgKohPerG: 189, expandedUncertainty: 1 } },
    { fatKey: 'coconut', sharePercent: 40 },
    {
      fatKey: 'own:1',
      sharePercent: 10,
      late: true,
      own: {
        name: 'Plum kernel oil',
        saponificationValue: { low: 185, high: 198 },
        iodineValue: { low: 95, high: 110 },
        densityGPerMl: 0.91,
        unsaponifiablePercent: 1,
      },
    },
  ],
  alkali: { kohSharePercent: 20 },
  superfatPercent: 12,
  liquids: [{ liquidKey: 'goat_milk', shareOfWaterPercent: 20, intoFatsPercent: 50 }],
  acids: [{ acidKey: 'citric_acid', shareOfFatPercent: 1, strengthPercent: { low: 98, nominal: 99, high: 100 } }],
  peakLimitC: 70,
  allowance: { shrinkPercent: 2, wastePercent: 3 },
  additives: [{ name: 'Clay', shareOfFatPercent: 2, limitPercent: 3, densityGPerMl: 2.5 }],
};

const SCALE: Scale = { stepMg: 100, capacityMg: 5_000_000, verificationIntervalMg: 100, accuracyClass: 'III' };
const CHECKED: Scale = { stepMg: 100, capacityMg: 5_000_000, checkWeighings: [{ knownMg: 1_000_000, shownMg: 1_000_100, knownLimitMg: 20 }] };
const MOULD: Mould = { volumeMl: 1100, fillPercent: 95 };
const PLAN = valueOf(formulation.planWeighing(FULL_RECIPE, CERTIFIED, MOULD, SCALE));
const READINGS = PLAN.lines.slice(0, 3).map(({ key, targetMg }) => ({ key, readingMg: targetMg, mixed: true }));
const POT = { naohMg: 130_000, kohMg: 0, waterMg: 150_000, waterTemperatureC: 20, iceMg: 120_000, iceTemperatureC: -10 };
const MASSES = { naohMg: 130_000, kohMg: 20_000, waterMg: 270_000 };
const PROFILE = [
  { acid: '18:1', percent: 70 },
  { acid: '16:0', percent: 30 },
];
const AROUND = { aroundC: 20, workingC: 40, potMaterialKey: 'pp', potVolumeMl: 3000 };
const interval = (nominal: number, by: number) => ({ low: nominal - by, nominal, high: nominal + by });

/** Alkali, fats and acids. */
const OF_FATS: Call[] = [
  calls('saponificationValueFromAcids', formulation.saponificationValueFromAcids, PROFILE),
  calls('iodineValueFromAcids', formulation.iodineValueFromAcids, PROFILE),
  calls('judgeCertificate', formulation.judgeCertificate, { fatKey: 'olive', valueMgKohPerG: 189, expandedUncertainty: 1 }),
  calls('acidSharesOfBlend', formulation.acidSharesOfBlend, PLAIN_RECIPE.fats),
  calls('saponificationValueByTitration', formulation.saponificationValueByTitration, { fatMassG: 2, acidMolPerL: 0.5, blankMl: 25, sampleMl: 12 }),
  calls('hydroxideContent', formulation.hydroxideContent, 'NaOH', {
    assayIs: 'total alkali',
    assayPercent: interval(98, 1),
    carbonatePercent: interval(0.5, 0.3),
    waterPercent: interval(0.5, 0.3),
  }),
  calls('carbonation', formulation.carbonation, 'KOH', 100_000, 5),
  calls('alkaliTakenByAcids', formulation.alkaliTakenByAcids, [{ acidKey: 'citric_acid', massMg: 10_000, strengthPercent: interval(99, 1) }]),
  calls('discountOfLateFat', formulation.discountOfLateFat, 190_000, 2, [{ massMg: 30_000, saponificationValue: 190 }]),
  calls('lateFatFor', formulation.lateFatFor, 190_000, 2, 6, 190),
];

/** Recipe, mould, plan, readings. */
const OF_PLANS: Call[] = [
  calls('formulate', formulation.formulate, FULL_RECIPE, CERTIFIED, 1_000_000),
  calls('scaleToMould', formulation.scaleToMould, FULL_RECIPE, CERTIFIED, MOULD),
  calls('planWeighing', formulation.planWeighing, FULL_RECIPE, CERTIFIED, MOULD, SCALE, { naoh: CHECKED }),
  calls('recompute', formulation.recompute, { recipe: FULL_RECIPE, purity: CERTIFIED, lines: PLAN.lines, scale: SCALE, readings: READINGS, roomMl: 1300 }),
  calls('errorLimitMg', formulation.errorLimitMg, SCALE, 500_000),
  calls('errorLimitMg', formulation.errorLimitMg, CHECKED, 500_000),
  calls('errorLimitMg', formulation.errorLimitMg, 1000, 500_000),
  calls('inServiceLimitMg', formulation.inServiceLimitMg, 'III', 1000, 500_000),
  calls('verificationLimitMg', formulation.verificationLimitMg, 'III', 1000, 500_000),
  calls('judgeReading', formulation.judgeReading, { ...PLAN.lines[0]!, stepMg: 100 }, 400_000),
  calls('judgeTemperature', formulation.judgeTemperature, { lowC: 35, highC: 45 }, 40),
  calls('parseDecimal', formulation.parseDecimal, '33', { name: 'The lye concentration', min: 20, max: 50, maxDecimals: 1 }),
  calls('formatMass', formulation.formatMass, 123_456, 100),
  calls('unaccountedMass', formulation.unaccountedMass, {
    openingMg: 5_000_000,
    receiptsMg: 1_000_000,
    removalsMg: 2_000_000,
    countedMg: 3_999_000,
    weighings: [{ stepMg: 1000, massMg: 5_000_000, sign: 1, times: 1 }],
  }),
  calls('mouldVolumeMl', formulation.mouldVolumeMl, { kind: 'box', lengthMm: 200, widthMm: 70, depthMm: 70 }),
  calls('mouldVolumeMl', formulation.mouldVolumeMl, { kind: 'cylinder', diameterMm: 80, depthMm: 200 }),
  calls('mouldVolumeMl', formulation.mouldVolumeMl, { kind: 'water', waterMassMg: 1_100_000, waterTemperatureC: 20 }),
  calls('classTotals', formulation.classTotals, [PLAN, PLAN], 10),
];

/** Liquids, heat, solution and bar. */
const OF_LYE: Call[] = [
  calls('waterOf', formulation.waterOf, { kind: 'share of fat', percent: 30 }, { alkaliMg: 130_000, fatMg: 1_000_000 }),
  calls('waterOf', formulation.waterOf, { kind: 'water per alkali', ratio: 2 }, { alkaliMg: 130_000, fatMg: 1_000_000 }),
  calls('waterFigures', formulation.waterFigures, { alkaliMg: 130_000, fatMg: 1_000_000, waterMg: 260_000 }),
  calls('splitLiquid', formulation.splitLiquid, { naohMg: 130_000, kohMg: 20_000 }, [{ waterMg: 250_000, intoFatsPercent: 20 }]),
  calls('dissolvesInPot', formulation.dissolvesInPot, POT),
  calls('peakPath', formulation.peakPath, POT, 21),
  calls('peakPath', formulation.peakPath, { ...POT, kohMg: 20_000 }),
  calls('iceForLimit', formulation.iceForLimit, { ...POT, plainWaterMg: 270_000, liquidWaterMg: 20_000 }, 60),
  calls('containerBears', formulation.containerBears, 'pp', 80),
  { ...calls('potOf', formulation.potOf, FULL_RECIPE, PLAN.lines), checked: 2 },
  calls('alkaliKindOf', formulation.alkaliKindOf, 130_000, 20_000),
  { ...calls('preparationOf', formulation.preparationOf, FULL_RECIPE, CERTIFIED, PLAN.lines, AROUND), checked: 3 },
  { ...calls('preparationOfPlan', formulation.preparationOfPlan, FULL_RECIPE, CERTIFIED, PLAN.lines, AROUND), checked: 3 },
  calls('fillLevel', formulation.fillLevel, POT, 1000),
  calls('coolingTime', formulation.coolingTime, MASSES, { fromC: 80, toC: 40, aroundC: 20 }, 'still air'),
  calls('lyeSolution', formulation.lyeSolution, MASSES, 20),
  calls('coldStorageWarning', formulation.coldStorageWarning, 'dual', 33, 5),
  calls('hazardOfSolution', formulation.hazardOfSolution, 'dual', 33),
  calls('labelOfSolution', formulation.labelOfSolution, 'dual', 33),
  calls('vinegarForRinseFilm', formulation.vinegarForRinseFilm, { massMg: 1000, kind: 'NaOH', concentrationPercent: 33 }, 5),
  calls('whyNotVinegarOnSpill', formulation.whyNotVinegarOnSpill, { massMg: 400_000, kind: 'KOH', concentrationPercent: 33 }, 5),
  calls('barOf', formulation.barOf, {
    needMg: 190_000,
    glycerideNeedMg: 190_000,
    superfatPercent: 8,
    fatMg: 1_000_000,
    alkaliMg: 125_000,
    impuritiesMg: 2000,
    waterMg: 260_000,
    otherMg: 0,
  }),
];

export const CALLS: readonly Call[] = [...OF_FATS, ...OF_PLANS, ...OF_LYE];
