import type { BottleOut } from '@ashwater/contracts';
import { formatMass } from '@ashwater/formulation/quantity';
import { Faults } from './faults.ts';
import { text } from './forms.ts';

export type TransferCheck = { massMg: number; toId: string | null; toLabel: string };

function stepUnlessNamed(faults: Faults, data: FormData): void {
  if (text(data, 'scaleId') === '') faults.stepMg(data, 'scaleStep');
}

/** What would be put over, or every fault at once. The API reads it again. */
export function checkTransfer(data: FormData, bottle: BottleOut): { faults: Faults; check: TransferCheck | null } {
  const faults = new Faults();
  const fresh = text(data, 'to') === 'new';
  const other = bottle.others.find(({ id }) => id === text(data, 'to'));
  if (!fresh && !other) faults.add('to', 'Choose the container that it went into.');
  const label = text(data, 'newContainer/label').trim();
  if (fresh && label === '') faults.add('newContainer/label', 'Write the label of the new container.');
  const grossMg = fresh ? faults.massMg(data, 'newContainer/gross', 'Write what the new container weighs filled.') : 0;
  const tareMg = fresh ? faults.massMg(data, 'newContainer/tare', 'Write what the new container weighs empty, with its lid.') : 0;
  const typedMg = fresh ? 0 : faults.massMg(data, 'mass', 'Write the mass that was put over.');
  if (typedMg === 0 && !fresh) faults.add('mass', 'Nothing was put over: the mass is 0 g.');
  if (fresh && grossMg !== null && tareMg !== null && grossMg <= tareMg)
    faults.add('newContainer/gross', `Filled it weighs ${formatMass(grossMg)}, empty ${formatMass(tareMg)}: nothing would be in it. Check both.`);
  const massMg = fresh ? (grossMg ?? 0) - (tareMg ?? 0) : (typedMg ?? 0);
  if (massMg > bottle.balanceMg)
    faults.add(
      fresh ? 'newContainer/gross' : 'mass',
      `Container ${bottle.label} holds ${formatMass(bottle.balanceMg)} by the book; ${formatMass(massMg)} cannot leave it.`,
    );
  stepUnlessNamed(faults, data);
  return { faults, check: faults.found.length > 0 ? null : { massMg, toId: other?.id ?? null, toLabel: other?.label ?? label } };
}

/** What would be booked as a gain, or every fault at once. */
export function checkGain(data: FormData, bottle: BottleOut): { faults: Faults; massMg: number } {
  const faults = new Faults();
  const grossMg = faults.massMg(data, 'gross', 'Write what the container weighs now, with its lid.');
  const gainMg = (grossMg ?? 0) - bottle.tareMg - bottle.balanceMg;
  const whole = text(data, 'mass').trim() === '';
  const massMg = whole ? gainMg : (faults.massMg(data, 'mass', '') ?? 0);
  if (grossMg !== null && gainMg <= 0)
    faults.add('gross', `By the book it weighs ${formatMass(bottle.tareMg + bottle.balanceMg)}: that is no gain. A container that got lighter is for a count.`);
  else if (grossMg !== null && gainMg > bottle.balanceMg)
    faults.add(
      'gross',
      `That would be a gain of ${formatMass(gainMg)} on ${formatMass(bottle.balanceMg)}: more than the air brings. Check the figure and the container.`,
    );
  else if (grossMg !== null && massMg > gainMg) faults.add('mass', `The scale shows a gain of ${formatMass(gainMg)}; more than that cannot be booked.`);
  if (text(data, 'reason').trim() === '') faults.add('reason', 'Write why it got heavier, such as: lid found open.');
  stepUnlessNamed(faults, data);
  return { faults, massMg };
}
