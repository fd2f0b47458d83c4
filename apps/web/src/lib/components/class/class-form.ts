import type { CreateClass, StationOut } from '@ashwater/contracts';
import { parseDecimal } from '@ashwater/formulation/quantity';
import { instantOf } from '../../zone.ts';
import { benchFrom, benchTyped } from './bench-parts.ts';
import type { BenchTyped } from './bench-parts.ts';

type Typed = Readonly<Record<string, string>>;
type Station = CreateClass['stations'][number];
type Fault = { name: string; detail: string };
export type ClassBody = { ok: true; body: CreateClass; benches: number[] } | { ok: false; fault: Fault };
/** One of the studio's stations as the form offers it; `id` is that of the class station it would become. */
export type BenchChoice = BenchTyped & {
  id: string;
  stationId: string;
  name: string;
  chosen: boolean;
  /** Blank: what the class makes. */
  recipeVersionId: string;
  /** The card in force, where a published class is amended. */
  cardId?: string;
};

/** A station as last set up, to start from. */
export function benchChoice(
  bench: Omit<StationOut, 'id'> & { recipeVersionId?: string | null },
  ids: { id: string; stationId: string },
  chosen: boolean,
): BenchChoice {
  return { ...ids, name: bench.name, chosen, recipeVersionId: bench.recipeVersionId ?? '', ...benchTyped(bench) };
}
export const idOrNull = (id: string): string | null => (id === '' ? null : id);

/** The wall time of the form as an instant, or why there is none. */
export function readStart(wall: string, zone: string): { ok: true; at: string } | { ok: false; detail: string } {
  const starts = instantOf(wall, zone);
  if (starts.kind === 'unreadable') return { ok: false, detail: 'Choose the day and the time the class starts.' };
  if (starts.kind === 'never') return { ok: false, detail: 'The clocks go forward over this time, so it does not exist on that day. Choose another time.' };
  return { ok: true, at: starts.at };
}

/** The rows of the form that are ticked, in order. */
export const chosenRows = (typed: Typed): number[] =>
  Object.keys(typed)
    .flatMap((name) => /^bench\/(\d+)\/chosen$/.exec(name)?.[1] ?? [])
    .map(Number)
    .sort((a, b) => a - b);

/** What is typed at one row, as the API takes it. */
export function setUpAt(typed: Typed, n: number) {
  const at = (part: string) => typed[`bench/${n}/${part}`] ?? '';
  const { accuracyClass, ...bench } = benchFrom(at);
  return { ...bench, accuracyClass: accuracyClass as Station['accuracyClass'], recipeVersionId: idOrNull(at('recipeVersionId')) };
}

/** Reads the form into the request. `benches` says which row of the form each station of the body came from. */
export function readClassForm(id: string, typed: Typed, zone: string): ClassBody {
  const at = (name: string) => typed[name] ?? '';
  const starts = readStart(at('startsAt'), zone);
  if (!starts.ok) return { ok: false, fault: { name: 'startsAt', detail: starts.detail } };
  if (at('recipeVersionId') === '') return { ok: false, fault: { name: 'recipeVersionId', detail: 'Choose the recipe version the class makes.' } };
  const spare = parseDecimal(at('sparePercent').replace(/\s*%$/, ''), { name: 'The spare', min: 0, max: 100, maxDecimals: 0 });
  if (!spare.ok) return { ok: false, fault: { name: 'sparePercent', detail: spare.problems[0]?.detail ?? 'The spare could not be read.' } };
  const benches = chosenRows(typed);
  const stations = benches.map((n) => ({ id: at(`bench/${n}/id`), stationId: at(`bench/${n}/stationId`), ...setUpAt(typed, n) }));
  const body = {
    id,
    title: at('title'),
    startsAt: starts.at,
    room: at('room'),
    recipeVersionId: at('recipeVersionId'),
    naohLotId: idOrNull(at('naohLotId')),
    kohLotId: idOrNull(at('kohLotId')),
    sparePercent: spare.value.value,
    stations,
  };
  return { ok: true, body, benches };
}

/** Faults of the station as a whole: they stand at its tick. */
const NAMELESS = ['stationId', 'classStationId', 'cardId'];
/** "/stations/1/scaleStep" of the body is "bench/3/scaleStep" of the form when row 3 was the second one chosen. */
export function fieldOfStation(pointer: string, benches: readonly number[]): string {
  const found = /^\/stations\/(\d+)(?:\/(.+))?$/.exec(pointer);
  const row = found && benches[Number(found[1])];
  if (row === undefined || row === null) return pointer.replace(/^\//, '');
  const part = found?.[2] === undefined || NAMELESS.includes(found[2]) ? 'chosen' : found[2];
  return `bench/${row}/${part}`;
}
