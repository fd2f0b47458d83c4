import type { CreateClass, StationOut } from '@ashwater/contracts';
import { instantOf } from '../../zone.ts';
import { benchFrom, benchTyped } from './bench-parts.ts';
import type { BenchTyped } from './bench-parts.ts';

type Typed = Readonly<Record<string, string>>;
type Station = CreateClass['stations'][number];
type Fault = { name: string; detail: string };
export type ClassBody = { ok: true; body: CreateClass; benches: number[] } | { ok: false; fault: Fault };
/** One of the studio's stations as the form offers it; `id` is that of the class station it would become. */
export type BenchChoice = BenchTyped & { id: string; stationId: string; name: string; chosen: boolean };

/** A station as last set up, to start from. */
export function benchChoice(bench: Omit<StationOut, 'id'>, ids: { id: string; stationId: string }, chosen: boolean): BenchChoice {
  return { ...ids, name: bench.name, chosen, ...benchTyped(bench) };
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
    const { accuracyClass, ...bench } = benchFrom((part) => at(`bench/${n}/${part}`));
    return { id: at(`bench/${n}/id`), stationId: at(`bench/${n}/stationId`), ...bench, accuracyClass: accuracyClass as Station['accuracyClass'] };
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
