import type { CreateClass } from '@ashwater/contracts';
import { instantOf } from '../../zone.ts';

type Typed = Readonly<Record<string, string>>;
type Fault = { name: string; detail: string };
export type ClassBody = { ok: true; body: CreateClass; benches: number[] } | { ok: false; fault: Fault };
/** One of the studio's stations as the form offers it; `id` is that of the class station it would become. */
export type BenchChoice = {
  id: string;
  stationId: string;
  name: string;
  chosen: boolean;
  scaleStep: string;
  scaleCapacity: string;
  mouldName: string;
  mouldVolumeMl: string;
};

export const BENCH_PARTS = ['scaleStep', 'scaleCapacity', 'mouldName', 'mouldVolumeMl'] as const;
type SetUp = { name: string; scaleStepMg: number; scaleCapacityMg: number; mouldName: string; mouldVolumeMl: number };
const grams = (massMg: number): string => String(massMg / 1000);

/** A station as last set up, to start from. */
export function benchChoice(bench: SetUp, ids: { id: string; stationId: string }, chosen: boolean): BenchChoice {
  return {
    ...ids,
    name: bench.name,
    chosen,
    scaleStep: grams(bench.scaleStepMg),
    scaleCapacity: grams(bench.scaleCapacityMg),
    mouldName: bench.mouldName,
    mouldVolumeMl: String(bench.mouldVolumeMl),
  };
}
const lot = (id: string): string | null => (id === '' ? null : id);

/** Reads the form into the request. `benches` says which row of the form each station of the body came from. */
export function readClassForm(id: string, typed: Typed, zone: string): ClassBody {
  const at = (name: string) => typed[name] ?? '';
  const starts = instantOf(at('startsAt'), zone);
  if (starts.kind === 'unreadable') return { ok: false, fault: { name: 'startsAt', detail: 'Choose the day and the time the class starts.' } };
  if (starts.kind === 'never')
    return { ok: false, fault: { name: 'startsAt', detail: 'The clocks go forward over this time, so it does not exist on that day. Choose another time.' } };
  if (at('recipeVersionId') === '') return { ok: false, fault: { name: 'recipeVersionId', detail: 'Choose the recipe version the class makes.' } };
  const rows = Object.keys(typed).flatMap((name) => /^bench\/(\d+)\/chosen$/.exec(name)?.[1] ?? []);
  const benches = rows.map(Number).sort((a, b) => a - b);
  const stations = benches.map((n) => {
    const part = (name: string) => at(`bench/${n}/${name}`);
    return {
      id: part('id'),
      stationId: part('stationId'),
      scaleStep: part('scaleStep'),
      scaleCapacity: part('scaleCapacity'),
      mouldName: part('mouldName'),
      mouldVolumeMl: part('mouldVolumeMl'),
    };
  });
  const body = {
    id,
    title: at('title'),
    startsAt: starts.at,
    room: at('room'),
    recipeVersionId: at('recipeVersionId'),
    naohLotId: lot(at('naohLotId')),
    kohLotId: lot(at('kohLotId')),
    stations,
  };
  return { ok: true, body, benches };
}

/** "/stations/1/scaleStep" of the body is "bench/3/scaleStep" of the form when row 3 was the second one chosen. */
export function fieldOfStation(pointer: string, benches: readonly number[]): string {
  const found = /^\/stations\/(\d+)(?:\/(.+))?$/.exec(pointer);
  const row = found && benches[Number(found[1])];
  if (row === undefined || row === null) return pointer.replace(/^\//, '');
  const part = found?.[2] === 'stationId' || found?.[2] === undefined ? 'chosen' : found[2];
  return `bench/${row}/${part}`;
}
