import type { ScaleCheckIn, ScaleIn } from '@ashwater/contracts';
import { EnteredFields } from '../entered.ts';

export type ScaleFigures = {
  id: string;
  name: string;
  stepMg: number;
  capacityMg: number;
  verificationIntervalMg: number | null;
  accuracyClass: 'I' | 'II' | 'III' | 'IIII' | null;
};

/** A scale's plate as typed. Throws `input-refused` with a fault for every field that cannot stand. */
export function readScaleIn(input: ScaleIn): ScaleFigures {
  const entered = new EnteredFields();
  const stepMg = entered.scaleStepMg(input.step, '/step');
  const before = entered.faults.length;
  const capacityMg = entered.massMg(input.capacity, '/capacity');
  if (entered.faults.length === before && capacityMg < 20 * stepMg)
    entered.fault('/capacity', 'The capacity is the most the scale carries, such as 5 kg: many times its step.');
  const interval = input.verificationInterval?.trim() ?? '';
  const verificationIntervalMg = interval === '' ? null : entered.massMg(interval, '/verificationInterval');
  // OIML R 76-1, 3.4.2 (from memory): e is from one to ten steps.
  if (verificationIntervalMg !== null && entered.faults.length === 0 && (verificationIntervalMg < stepMg || verificationIntervalMg > 10 * stepMg))
    entered.fault('/verificationInterval', 'The verification interval e is from one to ten steps. Leave it blank when the plate says none.');
  entered.refuse();
  return { id: input.id, name: input.name, stepMg, capacityMg, verificationIntervalMg, accuracyClass: input.accuracyClass || null };
}

/** A check weighing as typed, mg. */
export function readCheck(input: ScaleCheckIn, capacityMg: number): { knownMg: number; knownLimitMg: number; shownMg: number } {
  const entered = new EnteredFields();
  const knownMg = entered.massMg(input.known, '/known');
  const knownLimitMg = entered.massMg(input.knownLimit, '/knownLimit');
  const shownMg = entered.massMg(input.shown, '/shown');
  entered.refuse();
  if (knownMg === 0) entered.fault('/known', 'The known mass is more than 0 g.');
  else if (knownMg > capacityMg) entered.fault('/known', 'The known mass is more than the scale carries.');
  if (knownMg > 0 && knownLimitMg >= knownMg) entered.fault('/knownLimit', 'How wrong the known mass can be is far less than the mass itself.');
  // A quarter off is no scale's error: another mass lay on it, or a key was missed.
  if (Math.abs(shownMg - knownMg) > knownMg / 4 || shownMg === 0)
    entered.fault('/shown', 'This is far from the known mass. Check both figures; empty and tare the scale, and weigh again.');
  entered.refuse();
  return { knownMg, knownLimitMg, shownMg };
}
