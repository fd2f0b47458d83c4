import type { AccuracyClass, FatShare, Purity, RecipeInput, Scale, WeighPlan } from './index.ts';
import { FATS, planWeighing } from './index.ts';
import { bandInput } from './figures.ts';
import { saponificationValueOf } from './masses.ts';
import type { Interval } from './outcome.ts';
import { superfatUncertainty } from './uncertainty.ts';
import { trueMassOf } from './weigh-line.ts';

/*
 * For tests only: weighings made up within the stated errors, to be held against the band of their plan. What is true of a
 * weighing is computed here a second time, from the standards and not from the package.
 */

/** Draws from 0 up to but not 1, the same every time: mulberry32, public domain (Tommy Ettinger). */
export function drawsFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

type Draw = () => number;
const between = (draw: Draw, low: number, high: number): number => low + (high - low) * draw();
const whole = (draw: Draw, low: number, high: number): number => Math.floor(between(draw, low, high + 1));
const oneOf = <T>(draw: Draw, values: readonly T[]): T => values[Math.floor(draw() * values.length)] as T;

/** Different fats of the catalogue with any shares, some with a certificate somewhere in the published range, some the studio's own. */
export function drawFats(draw: Draw, count: number): FatShare[] {
  const left = FATS.map((fat) => fat.key);
  const fats = Array.from({ length: count }, () => ({ fatKey: left.splice(Math.floor(draw() * left.length), 1)[0] ?? '', weight: whole(draw, 2, 20) }));
  const sum = fats.reduce((total, { weight }) => total + weight, 0);
  return fats.map(({ fatKey, weight }) => {
    const range = FATS.find((fat) => fat.key === fatKey)?.saponificationValue ?? { low: 0, nominal: 0, high: 0 };
    const share = { fatKey, sharePercent: (100 * weight) / sum, ...(draw() < 0.1 ? { late: true } : {}) };
    const kind = draw();
    if (kind < 0.4) return { ...share, certificateSv: { valueMgKohPerG: between(draw, range.low, range.high), expandedUncertainty: between(draw, 0.5, 2) } };
    const own = { name: `Fat of the studio ${fatKey}`, saponificationValue: { low: range.low, high: range.high } };
    return kind < 0.5 && range.low > 150 ? { ...share, fatKey: `own:${fatKey}`, own } : share;
  });
}

/** Any recipe that could pass the checks: up to `mostFats` fats of the catalogue, sodium, potassium or both. */
export function drawRecipe(draw: Draw, mostFats = 6): RecipeInput {
  return {
    fats: drawFats(draw, whole(draw, 1, mostFats)),
    alkali: { kohSharePercent: oneOf(draw, [0, 0, 0, 100, whole(draw, 10, 90)]) },
    superfatPercent: whole(draw, 3, 20),
    superfatFloorPercent: oneOf(draw, [0, 0, 0.5, 1]),
    lyeConcentrationPercent: whole(draw, 28, 38),
    iceSharePercent: oneOf(draw, [0, 50]),
    waterTemperatureC: 20,
    iceTemperatureC: -10,
    liquids: [],
    additives: [],
    ...(draw() < 0.25 ? { acids: [drawAcid(draw)] } : {}),
  };
}

/** Molar mass over acid groups, g/mol: citric acid 192.123 / 3, lactic acid 90.078 (IUPAC atomic weights). */
const G_PER_MOL_OF_ACID: Readonly<Record<string, number>> = { citric_acid: 192.123 / 3, lactic_acid: 90.078 };

function drawAcid(draw: Draw): NonNullable<RecipeInput['acids']>[number] {
  const nominal = between(draw, 80, 99);
  return {
    acidKey: oneOf(draw, Object.keys(G_PER_MOL_OF_ACID)),
    shareOfFatPercent: between(draw, 1, 3),
    strengthPercent: { low: nominal - 2, nominal, high: nominal + 1 },
  };
}

export function drawPurity(draw: Draw): Purity {
  const assay = (low: number, high: number): Interval => {
    const nominal = between(draw, low, high);
    const by = between(draw, 0, 1);
    return { low: nominal - by, nominal, high: Math.min(100, nominal + by) };
  };
  return { naohPercent: assay(97, 99.5), kohPercent: assay(86, 92) };
}

const CLASSES: readonly AccuracyClass[] = ['III', 'III', 'II', 'IIII', 'HB 44 III'];

export function drawScale(draw: Draw): Scale {
  const stepMg = oneOf(draw, [10, 50, 100, 500, 1000, 2000]);
  const scale = { stepMg, capacityMg: 100_000_000 };
  const kind = draw();
  if (kind < 0.4) return scale;
  if (kind < 0.8) return { ...scale, accuracyClass: oneOf(draw, CLASSES), verificationIntervalMg: stepMg * oneOf(draw, [1, 2, 5, 10]) };
  const checkWeighings = Array.from({ length: whole(draw, 1, 3) }, () => {
    const knownMg = oneOf(draw, [100_000, 500_000, 1_000_000]);
    return { knownMg, shownMg: knownMg + whole(draw, -2, 2) * stepMg, knownLimitMg: oneOf(draw, [0, 5, 50]) };
  });
  return { ...scale, checkWeighings };
}

/** OIML R 76-1:2006 Table 6, in service twice the initial limits (3.5.2); NIST HB 44 Table 6 maintenance: ends of the rows in e, then the limits in e. */
const IN_SERVICE: Record<AccuracyClass, readonly (readonly [upTo: number, limit: number])[]> = {
  I: [[50_000, 1], [200_000, 2], [Infinity, 3]],
  II: [[5000, 1], [20_000, 2], [100_000, 3]],
  III: [[500, 1], [2000, 2], [10_000, 3]],
  IIII: [[50, 1], [200, 2], [1000, 3]],
  'HB 44 III': [[500, 1], [2000, 2], [4000, 3], [10_000, 5]],
}; // prettier-ignore

/** Farthest a scale can be off at a reading, mg; past the last row in proportion to the load, as the package says it extends it. */
function farthestOff(scale: Scale, readingMg: number): number {
  const roundingMg = scale.stepMg / 2;
  if (scale.checkWeighings) {
    const worst = Math.max(...scale.checkWeighings.map(({ knownMg, shownMg, knownLimitMg = 0 }) => Math.abs(shownMg - knownMg) + roundingMg + knownLimitMg));
    return worst * Math.max(1, readingMg / Math.max(...scale.checkWeighings.map((check) => check.knownMg))) + roundingMg;
  }
  const e = scale.verificationIntervalMg ?? scale.stepMg;
  const rows = IN_SERVICE[scale.accuracyClass ?? 'III'];
  const row = rows.find(([upTo]) => readingMg <= upTo * e);
  const [upTo, limit] = row ?? rows.at(-1) ?? [1, 1];
  return (row ? limit * e : (limit * readingMg) / upTo) + roundingMg;
}

/** A plan with what it was made from, and its likely range. */
export type DrawnPlan = { recipe: RecipeInput; purity: Purity; scale: Scale; plan: WeighPlan; likelyPercent: Interval };

/** Draws until a plan is safe enough to be issued; `refused` counts those that were not. */
export function drawPlan(draw: Draw): { drawn: DrawnPlan; refused: number } {
  for (let refused = 0; ; refused++) {
    const [recipe, purity, scale] = [drawRecipe(draw), drawPurity(draw), drawScale(draw)];
    const outcome = planWeighing(recipe, purity, { volumeMl: whole(draw, 400, 6000) }, scale);
    if (!outcome.ok) continue;
    const plan = outcome.value;
    const input = bandInput(recipe, purity, plan.lines, (line) => trueMassOf(line, scale));
    const fats = input.fats.map((fat, index) => ({ ...fat, name: `fat ${index}`, certified: recipe.fats[index]?.certificateSv !== undefined }));
    return { drawn: { recipe, purity, scale, plan, likelyPercent: superfatUncertainty({ ...input, fats }).likelyPercent }, refused };
  }
}

/** Standard atomic weights, IUPAC/CIAAW 2021: Na 22.989 769 28, K 39.0983, O 15.999, H 1.008. */
const KOH_G_PER_MOL = 39.0983 + 15.999 + 1.008;
const KOH_PER_NAOH = KOH_G_PER_MOL / (22.98976928 + 15.999 + 1.008);

/**
 * The true superfat, percent, of one weighing of a plan in which every line is read somewhere in its accepted range, in whole
 * steps, and is off by anything up to the scale's limit; every oil and lot lies anywhere in its range. `corners`: all at one of
 * their ends, where a wrong band would show first. One draw in three lets the scale lean the same way on every line.
 */
export function drawSuperfat({ recipe, purity, scale, plan }: DrawnPlan, draw: Draw, corners: boolean): number {
  const place = (): number => (corners ? Math.round(draw()) : draw());
  const within = (range: Interval): number => range.low + (range.high - range.low) * place();
  const leans = draw() < 1 / 3 ? 2 * place() - 1 : null;
  const trueMg = (key: string): number => {
    const line = plan.lines.find((each) => each.key === key);
    if (!line) return 0;
    const steps = Math.round((line.acceptHighMg - line.acceptLowMg) / line.stepMg);
    const readingMg = line.acceptLowMg + Math.min(steps, Math.floor(place() * (steps + 1))) * line.stepMg;
    return Math.max(0, readingMg + (leans ?? 2 * place() - 1) * farthestOff(scale, readingMg));
  };
  const needMg = recipe.fats.reduce((sum, fat) => sum + (trueMg(`fat:${fat.fatKey}`) / 1000) * within(saponificationValueOf(fat)), 0);
  const naohMg = (trueMg('naoh') * within(purity.naohPercent)) / 100;
  const kohMg = (trueMg('koh') * within(purity.kohPercent)) / 100;
  const takenMg = (recipe.acids ?? []).reduce(
    (sum, { acidKey, strengthPercent }) =>
      sum + (trueMg(`acid:${acidKey}`) * within(strengthPercent) * KOH_G_PER_MOL) / 100 / (G_PER_MOL_OF_ACID[acidKey] ?? NaN),
    0,
  );
  return 100 * (1 - (naohMg * KOH_PER_NAOH + kohMg - takenMg) / needMg);
}

export type MonteCarlo = { plans: number; refused: number; weighings: number; outside: number; closestPercent: number; even: number; likely: number };

/**
 * `plans` plans with `each` weighings, every fifth in a corner. `outside` counts weighings off the band by more than `slackPercent`,
 * for molar masses are rounded differently here; `closestPercent` is how near to the low end of a band one came; `likely` counts,
 * of the `even` ones (not in a corner), those in the likely range.
 */
export function monteCarlo(seed: number, plans: number, each: number, slackPercent = 1e-5): MonteCarlo {
  const draw = drawsFrom(seed);
  const sum: MonteCarlo = { plans, refused: 0, weighings: 0, outside: 0, closestPercent: Infinity, even: 0, likely: 0 };
  for (let at = 0; at < plans; at++) {
    const { drawn, refused } = drawPlan(draw);
    const { superfatBandPercent: band } = drawn.plan;
    sum.refused += refused;
    for (let n = 0; n < each; n++) {
      const corners = n % 5 === 4;
      const superfat = drawSuperfat(drawn, draw, corners);
      sum.weighings += 1;
      if (!(superfat >= band.low - slackPercent && superfat <= band.high + slackPercent)) sum.outside += 1;
      sum.closestPercent = Math.min(sum.closestPercent, superfat - band.low);
      if (corners) continue;
      sum.even += 1;
      if (superfat >= drawn.likelyPercent.low && superfat <= drawn.likelyPercent.high) sum.likely += 1;
    }
  }
  return sum;
}
