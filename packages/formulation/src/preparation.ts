import type { Bar } from './bar.ts';
import { barOf } from './bar.ts';
import type { ContainerMaterial, ContainerVerdict } from './container-limits.ts';
import { CONTAINER_MATERIALS, containerBears } from './container-limits.ts';
import type { Cooling, Surroundings } from './cooling-time.ts';
import { coolingTime } from './cooling-time.ts';
import { coldStorageWarning } from './crystallisation.ts';
import type { Dissolving } from './dissolving.ts';
import { dissolvesInPot } from './dissolving.ts';
import { fatByKey } from './fats.ts';
import type { TrueMass } from './figures.ts';
import { asStated, bandInput, figuresOf, potOf } from './figures.ts';
import type { FillLevel } from './fill-level.ts';
import { fillLevel } from './fill-level.ts';
import type { AlkaliKind } from './hazard.ts';
import type { IceForLimit } from './ice-for-limit.ts';
import { iceForLimit } from './ice-for-limit.ts';
import type { SolutionLabel } from './label-statements.ts';
import { labelOfSolution } from './label-statements.ts';
import type { WaterFigures } from './liquid-plan.ts';
import { waterFigures } from './liquid-plan.ts';
import { massOf } from './masses.ts';
import { vinegarForRinseFilm, whyNotVinegarOnSpill } from './neutralisation.ts';
import type { Outcome } from './outcome.ts';
import type { PeakPath } from './peak-path.ts';
import { peakPath } from './peak-path.ts';
import type { LyePot } from './peak-temperature.ts';
import type { Line, LineKind, Purity, RecipeInput } from './recipe.ts';
import type { ScaleOrStep } from './scale-error.ts';
import type { LyeSolution } from './solution.ts';
import { lyeSolution } from './solution.ts';
import { superfatBand } from './superfat-band.ts';
import type { NamedBandInput, SuperfatUncertainty } from './uncertainty.ts';
import { superfatUncertainty } from './uncertainty.ts';
import type { PlanLine } from './weigh-line.ts';
import { trueMassOf } from './weigh-line.ts';

/** Where a solution is made; everything may be left out. Temperatures in C, volume to the brim in mL. */
export type Circumstances = { aroundC?: number; workingC?: number; potMaterialKey?: string; potVolumeMl?: number };

/** Our defaults, common practice, no source: a stay-under limit for a class, a room, lye cool enough to pour. */
export const PEAK_LIMIT_DEFAULT_C = 60;
export const AROUND_DEFAULT_C = 20;
export const WORKING_DEFAULT_C = 40;

/** A cool cellar or fridge, C: where a jar may be put by somebody who means well. */
export const COLD_STORAGE_C = 5;

/** A film of a tenth of a millimetre on 100 cm2, about the palm of a hand: about 1 g. Judgement, no source. */
export const RINSE_FILM_MG = 1000;

/** An answer with its sentence; `value` is null where the sentence says why there is none. */
export type Said<T> = { value: T | null; words: string };

export type Preparation = {
  pot: LyePot;
  kind: AlkaliKind;
  /** Alkali as weighed over alkali and what water is in the pot; higher than the recipe's when liquid goes into the fats. */
  potConcentrationPercent: number;
  path: PeakPath;
  peakLimitC: number;
  ice: Said<IceForLimit>;
  aroundC: number;
  workingC: number;
  cooling: Record<Surroundings, Said<Cooling>>;
  solution: LyeSolution | null;
  dissolving: Dissolving;
  coldStorage: string | null;
  water: WaterFigures;
  label: SolutionLabel;
  containers: (ContainerVerdict & { material: ContainerMaterial })[];
  /** Of the studio's own pot, where it is known. */
  ownContainer: ContainerVerdict | null;
  fill: FillLevel | null;
  rinseFilm: string;
  notOnSpill: string;
  bar: Bar | null;
  superfat: SuperfatUncertainty;
};

function said<T extends { words: string }>(outcome: Outcome<T>): Said<T> {
  return outcome.ok ? { value: outcome.value, words: outcome.value.words } : { value: null, words: outcome.problems.map((each) => each.detail).join(' ') };
}

const valueIn = <T>(outcome: Outcome<T>): T | null => (outcome.ok ? outcome.value : null);

/** What is no number counts as left out. */
const numberOr = (value: number | undefined, otherwise: number): number => (value !== undefined && Number.isFinite(value) ? value : otherwise);

export const alkaliKindOf = (naohMg: number, kohMg: number): AlkaliKind => (naohMg > 0 && kohMg > 0 ? 'dual' : kohMg > 0 ? 'KOH' : 'NaOH');

/**
 * The band's input with the names of its fats. A certificate counts as k = 2 only where it makes the
 * whole range: of a wax the low end is what surely reacts, whatever was measured.
 */
function named<L extends Line>(recipe: RecipeInput, purity: Purity, lines: readonly L[], trueMass: TrueMass<L>): NamedBandInput {
  const input = bandInput(recipe, purity, lines, trueMass);
  const nameOf = (key: string) => lines.find((line) => line.key === key)?.name ?? key;
  const fats = input.fats.map((fat, index) => {
    const share = recipe.fats[index];
    const name = nameOf(`fat:${share?.fatKey}`);
    const { low, nominal } = fat.saponificationValue;
    const certified = share?.certificateSv !== undefined && Math.abs(nominal - low - share.certificateSv.expandedUncertainty) < 1e-9;
    return { ...fat, name, certified };
  });
  const acids = (input.acids ?? []).map((acid, index) => ({ ...acid, name: nameOf(`acid:${recipe.acids?.[index]?.acidKey}`) }));
  return { ...input, fats, acids };
}

/** Likely superfat of a formula's or a plan's lines; certified oils count as certified. */
export function likelySuperfat<L extends Line>(recipe: RecipeInput, purity: Purity, lines: readonly L[], trueMass: TrueMass<L>): SuperfatUncertainty {
  return superfatUncertainty(named(recipe, purity, lines, trueMass));
}

/** What the batter becomes by nominal values; null where the superfat is below 0, for then it is waste. */
function barFrom(recipe: RecipeInput, purity: Purity, lines: readonly Line[], input: NamedBandInput): Bar | null {
  const { fatMassMg, alkaliMassMg, waterMassMg, batchMassMg } = figuresOf(recipe, lines);
  const needOf = (index: number): number => ((input.fats[index]?.massMg.nominal ?? 0) / 1000) * (input.fats[index]?.saponificationValue.nominal ?? 0);
  const needMg = recipe.fats.reduce((sum, _, index) => sum + needOf(index), 0);
  const waxNeedMg = recipe.fats.reduce((sum, fat, index) => sum + (fatByKey(fat.fatKey)?.kind === 'wax' ? needOf(index) : 0), 0);
  const pureMg = (massOf(lines, 'naoh') * purity.naohPercent.nominal + massOf(lines, 'koh') * purity.kohPercent.nominal) / 100;
  const outcome = barOf({
    needMg,
    glycerideNeedMg: needMg - waxNeedMg,
    superfatPercent: superfatBand(input).nominal,
    fatMg: fatMassMg,
    alkaliMg: pureMg,
    impuritiesMg: alkaliMassMg - pureMg,
    waterMg: waterMassMg,
    otherMg: Math.max(0, batchMassMg - fatMassMg - alkaliMassMg - waterMassMg),
  });
  return valueIn(outcome);
}

function heatOf(recipe: RecipeInput, lines: readonly Line[], pot: LyePot, { aroundC, workingC }: { aroundC: number; workingC: number }) {
  const path = peakPath(pot);
  const { waterMg, iceMg, ...rest } = pot;
  const plainMg = Math.min(waterMg, massOf(lines, 'water'));
  const peakLimitC = recipe.peakLimitC ?? PEAK_LIMIT_DEFAULT_C;
  const inPot = { naohMg: pot.naohMg, kohMg: pot.kohMg, waterMg: waterMg + iceMg };
  const cool = (surroundings: Surroundings) => said(coolingTime(inPot, { fromC: path.peak.temperatureC, toC: workingC, aroundC }, surroundings));
  return {
    path,
    peakLimitC,
    ice: said(iceForLimit({ ...rest, plainWaterMg: plainMg + iceMg, liquidWaterMg: waterMg - plainMg }, peakLimitC)),
    cooling: { 'still air': cool('still air'), 'water bath': cool('water bath') },
    containers: CONTAINER_MATERIALS.flatMap((material) => {
      const verdict = valueIn(containerBears(material.key, path.peak.temperatureC));
      return verdict ? [{ ...verdict, material }] : [];
    }),
  };
}

/**
 * Everything there is to know before a solution is made: its heat, its cooling, what it is and how it
 * is labelled and kept, the likely superfat and the bar. It gathers what the other files work out, so
 * that a page and a card say the same; sources and limits stand there. Masses mg, temperatures C.
 *
 * For mixed alkali the vinegar is reckoned as for sodium hydroxide, which asks for more.
 * @param lines exact lines of a formula; for a plan see `preparationOfPlan`
 */
export function preparationOf<L extends Line>(
  recipe: RecipeInput,
  purity: Purity,
  lines: readonly L[],
  circumstances: Circumstances = {},
  trueMass: TrueMass<L> = asStated,
): Preparation {
  const { potMaterialKey, potVolumeMl } = circumstances;
  const aroundC = numberOr(circumstances.aroundC, AROUND_DEFAULT_C);
  const workingC = numberOr(circumstances.workingC, WORKING_DEFAULT_C);
  const pot = potOf(recipe, lines);
  const waterMg = pot.waterMg + pot.iceMg;
  const alkaliMg = pot.naohMg + pot.kohMg;
  const kind = alkaliKindOf(pot.naohMg, pot.kohMg);
  const potConcentrationPercent = (100 * alkaliMg) / (alkaliMg + waterMg);
  const heat = heatOf(recipe, lines, pot, { aroundC, workingC });
  const input = named(recipe, purity, lines, trueMass);
  const { fatMassMg, waterMassMg } = figuresOf(recipe, lines);
  const vinegarKind = kind === 'KOH' ? 'KOH' : 'NaOH';
  const left = (massMg: number) => ({ massMg, kind: vinegarKind, concentrationPercent: potConcentrationPercent }) as const;
  return {
    pot,
    kind,
    potConcentrationPercent,
    ...heat,
    aroundC,
    workingC,
    solution: valueIn(lyeSolution({ naohMg: pot.naohMg, kohMg: pot.kohMg, waterMg }, 20)),
    dissolving: dissolvesInPot(pot),
    coldStorage: coldStorageWarning(kind, potConcentrationPercent, COLD_STORAGE_C),
    water: waterFigures({ alkaliMg, fatMg: fatMassMg, waterMg: waterMassMg }),
    label: labelOfSolution(kind, potConcentrationPercent),
    ownContainer: potMaterialKey === undefined ? null : valueIn(containerBears(potMaterialKey, heat.path.peak.temperatureC)),
    fill: potVolumeMl === undefined ? null : valueIn(fillLevel(pot, potVolumeMl)),
    rinseFilm: said(vinegarForRinseFilm(left(RINSE_FILM_MG))).words,
    notOnSpill: said(whyNotVinegarOnSpill(left(alkaliMg + waterMg))).words,
    bar: barFrom(recipe, purity, lines, input),
    superfat: superfatUncertainty(input),
  };
}

/** The same of a weigh plan: each mass is in doubt by its accepted range and its scale's limits. */
export function preparationOfPlan(
  recipe: RecipeInput,
  purity: Purity,
  lines: readonly PlanLine[],
  circumstances: Circumstances = {},
  scaleOf?: (kind: LineKind) => ScaleOrStep,
): Preparation {
  return preparationOf(recipe, purity, lines, circumstances, (line) => (scaleOf ? trueMassOf(line, scaleOf(line.kind)) : trueMassOf(line)));
}
