import type { CardContent, GearItem } from '@ashwater/contracts';
import type { PlanLine, Preparation } from '@ashwater/formulation';
import { preparationOfPlan } from '@ashwater/formulation';
import { purityOf, scalesOf } from './plan-station.ts';
import type { LotPurity, Planned, StationSetUp } from './plan-station.ts';
import { stepsFor } from './steps.ts';

export type CardFrame = { recipeTitle: string; recipeVersionNumber: number; classTitle: string; startsAt: string; room: string };

const MOST_CONTRIBUTIONS = 3;

const OUTSIDE: readonly PlanLine['kind'][] = ['fat', 'additive'];
/** What goes into the solution container, and so into the jar. */
const inContainer = (line: PlanLine) => !OUTSIDE.includes(line.kind) && line.into !== 'fats';

/** What follows from how the solution is made, in the words of the formulation package. */
function beforehand({ superfat, solution, ice, cooling, label, potConcentrationPercent, coldStorage }: Preparation) {
  return {
    likelySuperfatPercent: superfat.likelyPercent,
    contributions: superfat.contributions
      .slice(0, MOST_CONTRIBUTIONS)
      .map(({ what, varianceSharePercent }) => `${what}, ${Math.round(varianceSharePercent)} % of the variance`),
    potConcentrationPercent,
    ...(solution ? { solutionDensityGPerMl: solution.densityGPerMl, solutionVolumeMl: solution.volumeMl } : {}),
    iceWords: ice.words,
    coolingWords: [cooling['still air'].words, cooling['water bath'].words],
    hazard: { signalWord: label.signalWord ?? '', classification: label.classification, statements: label.statements },
    label: {
      precautions: label.precautions.map(({ code, text, usText }) => ({ code, text, ...(usText ? { usText } : {}) })),
      us: { signalWord: label.us.signalWord ?? '', statements: label.us.statements },
      coldStorage,
      supplierFirst: label.supplierFirst,
    },
  };
}

const cardLine = ({ key, kind, name, exactMg, targetMg, acceptLowMg, acceptHighMg, stepMg, into, late }: PlanLine) => ({
  key,
  kind,
  name,
  exactMg,
  targetMg,
  acceptLowMg,
  acceptHighMg,
  stepMg,
  ...(into ? { into } : {}),
  ...(late ? { late } : {}),
});

/** What the card says, frozen from here on. */
export function cardContent({ recipe, plan }: Planned, station: StationSetUp, frame: CardFrame, lots: readonly LotPurity[], gear: GearItem[]): CardContent {
  const { scale, scaleByKind } = scalesOf(station);
  const solutionMassMg = plan.lines.filter(inContainer).reduce((sum, line) => sum + line.targetMg, 0);
  return {
    ...frame,
    stationName: station.name,
    mouldName: station.mouldName,
    mouldVolumeMl: station.mouldVolumeMl,
    scaleStepMg: station.scaleStepMg,
    lines: plan.lines.map(cardLine),
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
    ...beforehand(preparationOfPlan(recipe, purityOf(lots), plan.lines, {}, (kind) => scaleByKind[kind] ?? scale)),
    lots: lots.map(({ substance, lotNumber, purityPercent }) => ({ substance, lotNumber, purityPercent })),
  };
}
