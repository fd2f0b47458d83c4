import { ReceiveLot } from '@ashwater/contracts';
import { formatMass, parseDecimal } from '@ashwater/formulation/quantity';
import { lotBody, rowCount } from '../studio/lot-form.ts';
import type { LotValues } from '../studio/lot-form.ts';
import { Faults } from './faults.ts';
import { text } from './forms.ts';

export type LotCheck = { stepMg: number; totalMg: number; containers: { label: string; netMg: number }[] };

/** Reads a delivery before it is recorded: every fault at once, or what would stand in the book. The API reads it again. */
export function checkLot(data: FormData, values: LotValues, id: string): { faults: Faults; check: LotCheck | null } {
  const faults = new Faults();
  const shape = ReceiveLot.safeParse(lotBody(values, id));
  for (const issue of shape.error?.issues ?? []) faults.add(issue.path.join('/'), issue.message);
  const purity = percent(faults, data, 'purityPercent', 'The purity', 0.001);
  const uncertainty = percent(faults, data, 'purityUncertaintyPercent', 'The uncertainty of the purity', 0);
  if (purity !== null && uncertainty !== null && uncertainty >= purity) faults.add('purityUncertaintyPercent', `The uncertainty (${uncertainty} %) must be below the purity itself (${purity} %).`);
  const stepMg = faults.stepMg(data, 'scaleStep');
  const containers = Array.from({ length: rowCount(values) }, (_, row) => readContainer(faults, data, row));
  containers.forEach(({ label }, row) => {
    if (label !== '' && containers.findIndex((other) => other.label === label) < row) faults.add(`containers/${row}/label`, `Two containers are called ${label}. Each needs its own label.`);
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
