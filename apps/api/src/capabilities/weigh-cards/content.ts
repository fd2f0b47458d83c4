import type { CardContent, GearItem, RecipeDraft } from '@ashwater/contracts';
import { readRecipe } from '@ashwater/contracts';
import type { FormulationProblem, Interval, Outcome, Purity, RecipeInput, WeighPlan } from '@ashwater/formulation';
import { hazardOfSolution, planWeighing, PURITY_WITHOUT_CERTIFICATE } from '@ashwater/formulation';
import { stepsFor } from './steps.ts';

export type LotPurity = { substance: 'NaOH' | 'KOH'; lotNumber: string; purityPercent: number; purityUncertaintyPercent: number };
export type StationSetUp = { name: string; scaleStepMg: number; scaleCapacityMg: number; mouldName: string; mouldVolumeMl: number };
export type CardFrame = { recipeTitle: string; recipeVersionNumber: number; classTitle: string; startsAt: string; room: string };
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

/** The weigh plan of one station, or every reason why no safe card exists for it. */
export function planStation(draft: RecipeDraft, lots: readonly LotPurity[], station: StationSetUp): Outcome<Planned> {
  const recipe = readRecipe(draft);
  if (!recipe.ok) return recipe;
  const plan = planWeighing(
    recipe.value,
    purityOf(lots),
    { volumeMl: station.mouldVolumeMl },
    { stepMg: station.scaleStepMg, capacityMg: station.scaleCapacityMg },
  );
  return plan.ok ? { ok: true, value: { recipe: recipe.value, plan: plan.value } } : plan;
}

export const faultWords = (problems: readonly FormulationProblem[]): string[] => problems.map((problem) => problem.detail);

function alkaliKind(plan: WeighPlan): 'NaOH' | 'KOH' | 'dual' {
  const has = (kind: 'naoh' | 'koh') => plan.lines.some((line) => line.kind === kind && line.targetMg > 0);
  return has('naoh') && has('koh') ? 'dual' : has('koh') ? 'KOH' : 'NaOH';
}

/** What the card says, frozen from here on. */
export function cardContent({ recipe, plan }: Planned, station: StationSetUp, frame: CardFrame, lots: readonly LotPurity[], gear: GearItem[]): CardContent {
  const inSolution = plan.lines.filter((line) => !['fat', 'additive'].includes(line.kind));
  const solutionMassMg = inSolution.reduce((sum, line) => sum + line.targetMg, 0);
  const hazard = hazardOfSolution(alkaliKind(plan), plan.lyeConcentrationPercent);
  return {
    ...frame,
    stationName: station.name,
    mouldName: station.mouldName,
    mouldVolumeMl: station.mouldVolumeMl,
    scaleStepMg: station.scaleStepMg,
    lines: plan.lines.map(({ key, kind, name, exactMg, targetMg, acceptLowMg, acceptHighMg, stepMg }) => ({
      key,
      kind,
      name,
      exactMg,
      targetMg,
      acceptLowMg,
      acceptHighMg,
      stepMg,
    })),
    steps: stepsFor(plan),
    gear,
    superfatAimPercent: recipe.superfatPercent,
    superfatBandPercent: plan.superfatBandPercent,
    lyeConcentrationPercent: plan.lyeConcentrationPercent,
    peakTemperatureC: plan.peak.temperatureC,
    peakKind: plan.peak.kind,
    steam: plan.peak.steam,
    batchMassMg: plan.batchMassMg,
    solutionMassMg,
    words: plan.words,
    warnings: plan.warnings.map((warning) => warning.detail),
    hazard: { signalWord: hazard.signalWord ?? '', classification: hazard.classification, statements: hazard.statements },
    lots: lots.map(({ substance, lotNumber, purityPercent }) => ({ substance, lotNumber, purityPercent })),
  };
}
