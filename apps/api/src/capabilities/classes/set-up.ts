import type { CreateClass } from '@ashwater/contracts';
import { parseDecimal, parseMass } from '@ashwater/formulation';
import type { FieldFault } from '@ashwater/contracts';
import { DomainProblem } from '../../problems/domain-problem.ts';

type Typed = { scaleStep: string; scaleCapacity: string; mouldVolumeMl: string };
export type SetUp = { scaleStepMg: number; scaleCapacityMg: number; mouldVolumeMl: number };

/** Reads a station's typed scale and mould. Faults are added to `errors` with pointers below `prefix`. */
export function readSetUp(typed: Typed, prefix: string, errors: FieldFault[]): SetUp {
  const mass = (field: 'scaleStep' | 'scaleCapacity') => {
    const read = parseMass(typed[field]);
    if (read.ok && read.value.massMg > 0) return read.value.massMg;
    errors.push({ pointer: `${prefix}/${field}`, detail: read.ok ? 'It must be more than 0 g.' : read.problems[0]!.detail });
    return 0;
  };
  const scaleStepMg = mass('scaleStep');
  const scaleCapacityMg = mass('scaleCapacity');
  const volume = parseDecimal(typed.mouldVolumeMl, { name: 'The mould volume', min: 1, max: 100_000, maxDecimals: 0 });
  if (!volume.ok) errors.push({ pointer: `${prefix}/mouldVolumeMl`, detail: volume.problems[0]!.detail });
  if (scaleStepMg > 0 && scaleCapacityMg > 0 && scaleCapacityMg <= scaleStepMg)
    errors.push({ pointer: `${prefix}/scaleCapacity`, detail: 'The capacity is the most the scale can weigh; it must be more than its step.' });
  return { scaleStepMg, scaleCapacityMg, mouldVolumeMl: volume.ok ? volume.value.value : 0 };
}

export function refuseIfAny(errors: FieldFault[]): void {
  if (errors.length > 0) throw new DomainProblem('input-refused', errors[0]!.detail, errors);
}

/** Each bench once; every typed number readable. */
export function readStations(stations: CreateClass['stations']): SetUp[] {
  const errors: FieldFault[] = [];
  const seen = new Set<string>();
  const read = stations.map((station, i) => {
    if (seen.has(station.stationId)) errors.push({ pointer: `/stations/${i}/stationId`, detail: 'This station is in the class already.' });
    seen.add(station.stationId);
    return readSetUp(station, `/stations/${i}`, errors);
  });
  refuseIfAny(errors);
  return read;
}
