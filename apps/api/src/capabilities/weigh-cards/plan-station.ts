import type { RecipeDraft } from '@ashwater/contracts';
import { readRecipe } from '@ashwater/contracts';
import type { AccuracyClass, CheckWeighing, Interval, Outcome, Purity, RecipeInput, Scale, ScaleByKind, WeighPlan } from '@ashwater/formulation';
import { planWeighing, PURITY_WITHOUT_CERTIFICATE } from '@ashwater/formulation';

export type LotPurity = { substance: 'NaOH' | 'KOH'; lotNumber: string; purityPercent: number; purityUncertaintyPercent: number };
/** A station as it plans: masses in mg. What is null or left out is not known, and then the wider assumption holds. */
export type StationSetUp = {
  name: string;
  scaleStepMg: number;
  scaleCapacityMg: number;
  mouldName: string;
  mouldVolumeMl: number;
  verificationIntervalMg?: number | null;
  accuracyClass?: AccuracyClass | null;
  lyeScaleStepMg?: number | null;
  lyeScaleCapacityMg?: number | null;
  potMaterial?: string | null;
  potVolumeMl?: number | null;
  checks?: { main: CheckWeighing[]; lye: CheckWeighing[] };
};
/** The scales of a station: its own, and a finer one for single kinds of line. */
export type StationScales = { scale: Scale; scaleByKind: ScaleByKind };
export type Planned = { recipe: RecipeInput; plan: WeighPlan };

const interval = (lot: LotPurity): Interval => ({
  low: Math.max(0.1, lot.purityPercent - lot.purityUncertaintyPercent),
  nominal: lot.purityPercent,
  high: Math.min(100, lot.purityPercent + lot.purityUncertaintyPercent),
});

/** The purity to plan with: the chosen lots' certificates, else the wide range of caustic without one. */
export function purityOf(lots: readonly LotPurity[]): Purity {
  const of = (substance: LotPurity['substance']) => lots.find((lot) => lot.substance === substance);
  const naoh = of('NaOH');
  const koh = of('KOH');
  return {
    naohPercent: naoh ? interval(naoh) : PURITY_WITHOUT_CERTIFICATE.naohPercent,
    kohPercent: koh ? interval(koh) : PURITY_WITHOUT_CERTIFICATE.kohPercent,
  };
}

/** The plate describes the station's own scale; of a lye scale only step and capacity are known, and its checks. */
export function scalesOf(station: StationSetUp): StationScales {
  const { checks, verificationIntervalMg, accuracyClass, lyeScaleStepMg, lyeScaleCapacityMg } = station;
  const scale: Scale = {
    stepMg: station.scaleStepMg,
    capacityMg: station.scaleCapacityMg,
    ...(verificationIntervalMg ? { verificationIntervalMg } : {}),
    ...(accuracyClass ? { accuracyClass } : {}),
    ...(checks?.main.length ? { checkWeighings: checks.main } : {}),
  };
  if (!lyeScaleStepMg || !lyeScaleCapacityMg) return { scale, scaleByKind: {} };
  const lye: Scale = { stepMg: lyeScaleStepMg, capacityMg: lyeScaleCapacityMg, ...(checks?.lye.length ? { checkWeighings: checks.lye } : {}) };
  return { scale, scaleByKind: { naoh: lye, koh: lye } };
}

/** The weigh plan of one station, or every reason why no safe card exists for it. */
export function planStation(draft: RecipeDraft, lots: readonly LotPurity[], station: StationSetUp): Outcome<Planned> {
  const recipe = readRecipe(draft);
  if (!recipe.ok) return recipe;
  const { scale, scaleByKind } = scalesOf(station);
  const plan = planWeighing(recipe.value, purityOf(lots), { volumeMl: station.mouldVolumeMl }, scale, scaleByKind);
  return plan.ok ? { ok: true, value: { recipe: recipe.value, plan: plan.value } } : plan;
}
