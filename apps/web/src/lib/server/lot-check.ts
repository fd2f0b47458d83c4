import { ReceiveLot } from '@ashwater/contracts';
import type { LotOut } from '@ashwater/contracts';
import { formatMass, parseDecimal } from '@ashwater/formulation/quantity';
import { lotBody, rowCount } from '../studio/lot-form.ts';
import type { LotValues } from '../studio/lot-form.ts';
import { Faults } from './faults.ts';
import { text } from './forms.ts';

export type LotCheck = { stepMg: number; totalMg: number; containers: { label: string; netMg: number }[] };

/**
 * Reads a delivery before it is recorded: every fault at once, or what would stand in the book. The API reads it again.
 * @param lots what is in the book: a label and a supplier's lot number stand for one thing only
 */
export function checkLot(data: FormData, values: LotValues, id: string, lots: readonly LotOut[]): { faults: Faults; check: LotCheck | null } {
  const faults = new Faults();
  const shape = ReceiveLot.safeParse(lotBody(values, id));
  for (const issue of shape.error?.issues ?? []) faults.add(issue.path.join('/'), issue.message);
  const purity = percent(faults, data, 'purityPercent', 'The purity', 0.001);
  const uncertainty = percent(faults, data, 'purityUncertaintyPercent', 'The uncertainty of the purity', 0);
  if (purity !== null && uncertainty !== null && uncertainty >= purity) faults.add('purityUncertaintyPercent', `The uncertainty (${uncertainty} %) must be below the purity itself (${purity} %).`);
  const same = lots.find((lot) => lot.substance === values['substance'] && lot.supplier === values['supplier']?.trim() && lot.lotNumber === values['lotNumber']?.trim());
  if (same) faults.add('lotNumber', `Lot ${same.lotNumber} of ${same.supplier} is in the book already. For a second delivery of it, add the delivery to the lot number, such as ${same.lotNumber}/2.`);
  const stepMg = faults.stepMg(data, 'scaleStep');
  const taken = new Set(lots.flatMap((lot) => lot.containers.map(({ label }) => label)));
  const containers = Array.from({ length: rowCount(values) }, (_, row) => readContainer(faults, data, row));
  containers.forEach(({ label }, row) => {
    if (taken.has(label)) faults.add(`containers/${row}/label`, `A container called ${label} is in the book already. Each container keeps its own label, used up or not.`);
    else if (label !== '' && containers.findIndex((other) => other.label === label) < row) faults.add(`containers/${row}/label`, `Two containers are called ${label}. Each needs its own label.`);
  });
  const totalMg = containers.reduce((sum, { netMg }) => sum + netMg, 0);
  return { faults, check: faults.found.length === 0 ? { stepMg: stepMg ?? 0, totalMg, containers } : null };
}

function percent(faults: Faults, data: FormData, name: string, called: string, min: number): number | null {
  const read = parseDecimal(text(data, name), { name: called, min, max: 100, maxDecimals: 3 });
  if (read.ok) return read.value.value;
  faults.add(name, read.problems[0]?.detail ?? 'Write a number.');
  return null;
}

function readContainer(faults: Faults, data: FormData, row: number): { label: string; netMg: number } {
  const at = `containers/${row}`;
  const label = text(data, `${at}/label`).trim();
  const grossMg = faults.massMg(data, `${at}/gross`);
  const tareMg = faults.massMg(data, `${at}/tare`);
  if (grossMg === null || tareMg === null) return { label, netMg: 0 };
  if (grossMg <= tareMg) faults.add(`${at}/gross`, `Full it weighs ${formatMass(grossMg)}, empty ${formatMass(tareMg)}: nothing would be in it. Check both.`);
  return { label, netMg: grossMg - tareMg };
}
