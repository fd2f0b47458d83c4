import type { ClassStationIn, CreateClass, FieldFault, StationIn } from '@ashwater/contracts';
import { CONTAINER_MATERIALS, parseDecimal, parseMass } from '@ashwater/formulation';
import type { AccuracyClass } from '@ashwater/formulation';
import type { z } from 'zod';
import { DomainProblem } from '../../problems/domain-problem.ts';

type Typed = Omit<z.infer<typeof ClassStationIn>, 'id' | 'stationId' | 'mouldName'> | Omit<z.infer<typeof StationIn>, 'id' | 'name' | 'mouldName'>;
export type SetUp = {
  scaleStepMg: number;
  scaleCapacityMg: number;
  mouldVolumeMl: number;
  verificationIntervalMg: number | null;
  accuracyClass: AccuracyClass | null;
  lyeScaleStepMg: number | null;
  lyeScaleCapacityMg: number | null;
  potMaterial: string | null;
  potVolumeMl: number | null;
};
type MassField = 'scaleStep' | 'scaleCapacity' | 'verificationInterval' | 'lyeScaleStep' | 'lyeScaleCapacity';

/** The plate of a verified scale gives e from d to ten times d; anything else is a slip of the finger (OIML R 76-1, 3.4.2). */
const MOST_STEPS_IN_E = 10;

/** Reads a station's typed scales, mould and container. Faults are added to `errors` with pointers below `prefix`; blank is null, never zero. */
export function readSetUp(typed: Typed, prefix: string, errors: FieldFault[]): SetUp {
  const fault = (field: string, detail: string) => void errors.push({ pointer: `${prefix}/${field}`, detail });
  const mass = (field: MassField): number => {
    const read = parseMass(typed[field] ?? '');
    if (read.ok && read.value.massMg > 0) return read.value.massMg;
    fault(field, read.ok ? 'It must be more than 0 g.' : read.problems[0]!.detail);
    return 0;
  };
  const given = (field: keyof Typed): boolean => (typed[field] ?? '').trim() !== '';
  const massIfGiven = (field: MassField): number | null => (given(field) ? mass(field) : null);
  const volume = (field: 'mouldVolumeMl' | 'potVolumeMl', name: string): number => {
    const read = parseDecimal(typed[field] ?? '', { name, min: 1, max: 100_000, maxDecimals: 0 });
    if (!read.ok) fault(field, read.problems[0]!.detail);
    return read.ok ? read.value.value : 0;
  };

  const scaleStepMg = mass('scaleStep');
  const scaleCapacityMg = mass('scaleCapacity');
  if (scaleStepMg > 0 && scaleCapacityMg > 0 && scaleCapacityMg <= scaleStepMg)
    fault('scaleCapacity', 'The capacity is the most the scale can weigh; it must be more than its step.');
  const verificationIntervalMg = massIfGiven('verificationInterval');
  if (verificationIntervalMg && scaleStepMg > 0 && (verificationIntervalMg < scaleStepMg || verificationIntervalMg > MOST_STEPS_IN_E * scaleStepMg))
    fault('verificationInterval', 'e is never finer than the step and at most ten times as coarse. Look at the plate again, or leave it blank.');
  if (given('lyeScaleStep') !== given('lyeScaleCapacity'))
    fault(given('lyeScaleStep') ? 'lyeScaleCapacity' : 'lyeScaleStep', 'A scale for the lye needs its step and its capacity. Give both, or neither.');
  const lyeScaleStepMg = massIfGiven('lyeScaleStep');
  const lyeScaleCapacityMg = massIfGiven('lyeScaleCapacity');
  if (lyeScaleStepMg && lyeScaleCapacityMg && lyeScaleCapacityMg <= lyeScaleStepMg)
    fault('lyeScaleCapacity', 'The capacity is the most the scale can weigh; it must be more than its step.');
  const potMaterial = typed.potMaterial?.trim() || null;
  if (potMaterial && !CONTAINER_MATERIALS.some((material) => material.key === potMaterial)) fault('potMaterial', 'Choose a material of the list.');
  return {
    scaleStepMg,
    scaleCapacityMg,
    mouldVolumeMl: volume('mouldVolumeMl', 'The mould volume'),
    verificationIntervalMg,
    accuracyClass: typed.accuracyClass || null,
    lyeScaleStepMg,
    lyeScaleCapacityMg,
    potMaterial,
    potVolumeMl: given('potVolumeMl') ? volume('potVolumeMl', 'The container volume') : null,
  };
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
