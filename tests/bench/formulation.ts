/*
 * How fast and how big packages/formulation is, and whether a million simulated weighings stay inside their bands.
 *   npm run bench:formulation [-- --draws 100000]
 * Ends with 1 when a limit is missed. Timings hold for the machine it runs on: they are a bench and no test.
 */
import loadHighs from 'highs';
import { formulate, peakPath, planWeighing } from '@ashwater/formulation';
import { chooseTargets } from '../../packages/formulation/src/choose-targets.ts';
import type { TargetProblem } from '../../packages/formulation/src/choose-targets.ts';
import { bandInput, potOf } from '../../packages/formulation/src/figures.ts';
import { recipeLines } from '../../packages/formulation/src/masses.ts';
import { targetProblem } from '../../packages/formulation/src/plan-lines.ts';
import { drawFats, drawPlan, drawPurity, drawRecipe, drawsFrom, monteCarlo } from '../../packages/formulation/src/testing-draws.ts';
import type { DrawnPlan } from '../../packages/formulation/src/testing-draws.ts';
import type { Solver } from '../../packages/formulation/src/testing-search.ts';
import { bestByBruteForce, leastDeviationBySolver } from '../../packages/formulation/src/testing-search.ts';
import { superfatUncertainty } from '../../packages/formulation/src/uncertainty.ts';
import { trueMassOf } from '../../packages/formulation/src/weigh-line.ts';
import { sizeInBrowser } from './package-size.ts';

type Row = { what: string; found: string; limit: string; ok: boolean };
const rows: Row[] = [];

function at(sorted: readonly number[], share: number): number {
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? NaN;
}

const ms = (value: number): string => `${value.toFixed(value < 10 ? 3 : 1)} ms`;

/** `tries` above 1: the least of so many counts, for a longest time is otherwise that of whatever else the machine does. */
function timesOf(count: number, work: (index: number) => unknown, tries = 1): number[] {
  const once = (index: number): number => {
    const start = performance.now();
    work(index);
    return performance.now() - start;
  };
  const times = Array.from({ length: count }, (_, index) => Math.min(...Array.from({ length: tries }, () => once(index))));
  return times.sort((a, b) => a - b);
}

function timed(what: string, times: readonly number[], limit: { share: number; ms: number }): void {
  const value = at(times, limit.share);
  const limitWords = `${limit.share === 1 ? 'max' : 'median'} < ${limit.ms} ms`;
  rows.push({ what, found: `median ${ms(at(times, 0.5))}, p99 ${ms(at(times, 0.99))}, max ${ms(at(times, 1))}`, limit: limitWords, ok: value < limit.ms });
}

/** Formula with ranges, path of the temperature, weigh plan, and who makes the doubt. */
function wholeRecipe({ recipe, purity, scale }: DrawnPlan, volumeMl: number): void {
  const formula = formulate(recipe, purity);
  const plan = planWeighing(recipe, purity, { volumeMl }, scale);
  if (!formula.ok || !plan.ok) throw new Error('A recipe of the bench was refused.');
  peakPath(potOf(recipe, plan.value.lines));
  const input = bandInput(recipe, purity, plan.value.lines, (line) => trueMassOf(line, scale));
  superfatUncertainty({ ...input, fats: input.fats.map((fat, index) => ({ ...fat, name: `fat ${index}` })) });
}

function benchRecipes(): void {
  const draw = drawsFrom(11);
  const drawn = Array.from({ length: 48 }, () => drawPlan(draw).drawn).filter(
    ({ recipe, purity, scale }) => planWeighing(recipe, purity, { volumeMl: 1500 }, scale).ok,
  );
  timesOf(2000, (index) => wholeRecipe(drawn[index % drawn.length]!, 1500));
  timed(
    `whole recipe, ${drawn.length} kinds`,
    timesOf(4000, (index) => wholeRecipe(drawn[index % drawn.length]!, 1500)),
    { share: 0.5, ms: 1 },
  );
  const stations = drawn.slice(0, 24);
  const all = (): void => stations.forEach(({ recipe, purity, scale }) => planWeighing(recipe, purity, { volumeMl: 1500 }, scale));
  timed(`${stations.length} different station plans, best of 3`, timesOf(200, all), { share: 0.5, ms: 20 });
}

/** Searches of 15 lines: 13 fats and two alkalis, 14 fats and one. */
function searches(count: number): TargetProblem[] {
  const draw = drawsFrom(12);
  return Array.from({ length: count }, (_, index) => {
    const { acids: _none, ...plain } = drawRecipe(draw);
    const recipe = { ...plain, fats: drawFats(draw, index % 2 === 0 ? 13 : 14), alkali: { kohSharePercent: index % 2 === 0 ? 40 : 0 } };
    const purity = drawPurity(draw);
    const stepMg = [100, 500, 1000, 2000][index % 4] ?? 1000;
    return targetProblem(recipe, purity, recipeLines(recipe, purity, 500_000 + Math.floor(draw() * 5_000_000)), () => ({ stepMg, capacityMg: 20_000_000 }));
  });
}

const sum = (times: readonly number[]): number => times.reduce((total, time) => total + time, 0);

async function benchSearch(): Promise<void> {
  const problems = searches(600);
  problems.slice(0, 100).forEach(chooseTargets);
  timed(
    `exact search, ${problems.length} problems of 15 lines, best of 5`,
    timesOf(problems.length, (index) => chooseTargets(problems[index]!), 5),
    { share: 1, ms: 50 },
  );
  const some = problems.slice(0, 40);
  const own = sum(timesOf(some.length, (index) => chooseTargets(some[index]!)));
  const brute = sum(timesOf(some.length, (index) => bestByBruteForce(some[index]!)));
  const highs = await (loadHighs as unknown as () => Promise<Solver>)();
  const solver = sum(timesOf(some.length, (index) => leastDeviationBySolver(highs, some[index]!, 0)));
  const shown = (other: number): string => `${(other / own).toFixed(0)} times as long (${ms(other / some.length)} each)`;
  rows.push({ what: `brute force, ${some.length} of these`, found: shown(brute), limit: 'reported', ok: true });
  rows.push({ what: 'mixed-integer solver (HiGHS), the same', found: shown(solver), limit: 'reported', ok: true });
}

async function benchSize(): Promise<void> {
  const { bytes, gzipBytes } = await sizeInBrowser();
  const kB = (size: number): string => `${(size / 1000).toFixed(1)} kB`;
  rows.push({ what: 'package in a browser', found: `${kB(gzipBytes)} gzip (${kB(bytes)} minified)`, limit: '< 40 kB', ok: gzipBytes < 40_000 });
}

function benchDraws(draws: number): void {
  const each = 500;
  const start = performance.now();
  const found = monteCarlo(13, Math.ceil(draws / each), each);
  const seconds = (performance.now() - start) / 1000;
  const what = `${found.weighings} weighings of ${found.plans} plans`;
  rows.push({
    what,
    found: `${found.outside} outside the band; nearest ${found.closestPercent.toExponential(1)} points from its low end (${seconds.toFixed(0)} s)`,
    limit: '0',
    ok: found.outside === 0,
  });
  rows.push({
    what: 'of these, within the likely range (k = 2)',
    found: `${((100 * found.likely) / found.even).toFixed(2)} %`,
    limit: '> 95 %',
    ok: found.likely / found.even > 0.95,
  });
}

const asked = process.argv.indexOf('--draws');
const draws = asked === -1 ? 1_000_000 : Number(process.argv[asked + 1]);
if (!(draws >= 1000)) throw new Error('--draws takes a number of at least 1000.');
benchRecipes();
await benchSearch();
await benchSize();
benchDraws(draws);
for (const { what, found, limit, ok } of rows) console.log(`${ok ? 'ok    ' : 'MISSED'}  ${what.padEnd(48)} ${found.padEnd(64)} ${limit}`);
process.exitCode = rows.every((row) => row.ok) ? 0 : 1;
