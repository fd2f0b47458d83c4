import type { PathPoint } from '@ashwater/formulation';

/** The drawing area in user units; the labels stand outside it. */
export const CHART = { left: 34, right: 312, top: 10, bottom: 150 } as const;

export type HeatChart = {
  x: (sharePercent: number) => number;
  y: (temperatureC: number) => number;
  temperature: string;
  boiling: string;
  /** Share up to which ice is left; 0 when there was none. */
  iceUntilPercent: number;
  ticksC: number[];
  rows: PathPoint[];
};

const STEP_C = 20;
/** Every tenth of the lye for the table; the curve itself has all points. */
const ROWS = 10;

/** Scales and lines of the chart: temperature and boiling point against the share of the lye that is in. */
export function heatChart(points: readonly PathPoint[]): HeatChart {
  const highest = Math.max(...points.map((point) => Math.max(point.temperatureC, point.boilingPointC)));
  const lowest = Math.min(0, ...points.map((point) => point.temperatureC));
  const toC = Math.ceil((highest + 5) / STEP_C) * STEP_C;
  const fromC = Math.floor(lowest / STEP_C) * STEP_C;
  const x = (share: number) => CHART.left + ((CHART.right - CHART.left) * share) / 100;
  const y = (temperatureC: number) => CHART.bottom - ((CHART.bottom - CHART.top) * (temperatureC - fromC)) / (toC - fromC);
  const line = (of: (point: PathPoint) => number) => points.map((point) => `${x(point.sharePercent).toFixed(1)},${y(of(point)).toFixed(1)}`).join(' ');
  const icy = points.filter((point) => point.iceLeftMg > 0);
  const every = Math.max(1, Math.round((points.length - 1) / ROWS));
  return {
    x,
    y,
    temperature: line((point) => point.temperatureC),
    boiling: line((point) => point.boilingPointC),
    iceUntilPercent: icy.at(-1)?.sharePercent ?? 0,
    ticksC: Array.from({ length: (toC - fromC) / STEP_C + 1 }, (_, i) => fromC + i * STEP_C),
    rows: points.filter((_, i) => i % every === 0 || i === points.length - 1),
  };
}
