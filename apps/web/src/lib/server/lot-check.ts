import { lotHydroxide, ReceiveLot } from '@ashwater/contracts';
import type { LotOut } from '@ashwater/contracts';
import { formatMass, parseDecimal } from '@ashwater/formulation/quantity';
import { LOT_FIELDS, lotBody, PARTS, rowCount } from '../studio/lot-form.ts';
import type { LotValues } from '../studio/lot-form.ts';
import { Faults } from './faults.ts';
import { text } from './forms.ts';

export type CheckedContainer = { label: string; grossMg: number; tareMg: number };
export type LotCheck = {
  purityPercent: number;
  uncertaintyPercent: number;
  hydroxide: { low: number; high: number };
  /** null where a scale of the cabinet is named */
  stepMg: number | null;
  containers: CheckedContainer[];
};

/**
 * Reads a delivery before it is recorded: every fault at once, in the order of the form, or what would stand in the book.
 * The API reads it again.
 * @param lots what is in the book: a label and a supplier's lot number stand for one thing only
 * @param ofFiles what is wrong with the files that came along
 */
export function checkLot(
  data: FormData,
  values: LotValues,
  id: string,
  lots: readonly LotOut[],
  ofFiles: readonly (readonly [field: string, fault: string])[] = [],
): { faults: Faults; check: LotCheck | null } {
  const faults = new Faults();
  for (const [field, fault] of ofFiles) faults.add(field, fault);
  checkWords(faults, values, id, lots);
  const certificate = readCertificate(faults, data, values);
  const named = (values['scaleId'] ?? '') !== '';
  const stepMg = named ? null : faults.stepMg(data, 'scaleStep');
  checkBuying(faults, data);
  const containers = Array.from({ length: rowCount(values) }, (_, row) => readContainer(faults, data, row));
  checkLabels(
    faults,
    containers.map(({ label }) => label),
    new Set(lots.flatMap((lot) => lot.containers.map(({ label }) => label))),
  );
  const order = LOT_FIELDS.flatMap((name) => [name, name.replace(/FileId$/, 'File')]);
  faults.sortBy([...order, ...containers.flatMap((_, row) => PARTS.map((part) => `containers/${row}/${part}`))]);
  if (faults.found.length > 0 || certificate === null) return { faults, check: null };
  return { faults, check: { ...certificate, stepMg, containers } };
}

/** The certificate's figures and what they leave as hydroxide. */
function readCertificate(faults: Faults, data: FormData, values: LotValues): Pick<LotCheck, 'purityPercent' | 'uncertaintyPercent' | 'hydroxide'> | null {
  const before = faults.found.length;
  const missing = text(data, 'purityPercent').trim() === '';
  if (missing) faults.add('purityPercent', 'Write the purity by the certificate: without it no safe weigh card can be made. Ask the supplier.');
  const purity = missing ? null : percent(faults, data, 'purityPercent', 'The purity', 0.001);
  const uncertainty = percent(faults, data, 'purityUncertaintyPercent', 'The uncertainty of the purity', 0);
  if (purity !== null && uncertainty !== null && uncertainty >= purity)
    faults.add('purityUncertaintyPercent', `The uncertainty (${uncertainty} %) must be below the purity itself (${purity} %).`);
  const carbonatePercent = share(faults, data, 'carbonatePercent', 'The carbonate share');
  const waterPercent = share(faults, data, 'waterPercent', 'The water share');
  if (purity === null || uncertainty === null || faults.found.length > before) return null;
  const content = lotHydroxide({
    substance: values['substance'] === 'KOH' ? 'KOH' : 'NaOH',
    assayIs: values['assayIs'] === 'total alkali' ? 'total alkali' : 'hydroxide',
    purityPercent: purity,
    purityUncertaintyPercent: uncertainty,
    carbonatePercent,
    waterPercent,
  });
  if (content.ok) return { purityPercent: purity, uncertaintyPercent: uncertainty, hydroxide: { low: content.value.low, high: content.value.high } };
  for (const { pointer, detail } of content.problems) faults.add(pointer.slice(1), detail);
  return null;
}

/** What was paid and how long it took, where it is written. */
function checkBuying(faults: Faults, data: FormData): void {
  const rules = [
    { field: 'price', name: 'The price', max: 10_000_000, maxDecimals: 3 },
    { field: 'freight', name: 'The freight', max: 10_000_000, maxDecimals: 3 },
    { field: 'leadDays', name: 'The lead time in days', max: 365, maxDecimals: 0 },
  ];
  for (const { field, ...rule } of rules) {
    if (text(data, field).trim() === '') continue;
    const read = parseDecimal(text(data, field), { ...rule, min: 0 });
    if (!read.ok) faults.add(field, read.problems[0]?.detail ?? 'Write a number.');
  }
}

const BLANK: Record<string, string> = {
  supplier: 'Write the supplier.',
  lotNumber: 'Write the lot number.',
};

function checkWords(faults: Faults, values: LotValues, id: string, lots: readonly LotOut[]): void {
  const typed = (name: string): string => values[name]?.trim() ?? '';
  for (const issue of ReceiveLot.safeParse(lotBody(values, id)).error?.issues ?? []) {
    const name = issue.path.join('/');
    const row = /^containers\/(\d+)\/label$/.exec(name)?.[1];
    const blank = row === undefined ? BLANK[name] : `Write the label of container ${Number(row) + 1}.`;
    faults.add(name, (typed(name) === '' ? blank : undefined) ?? issue.message);
  }
  // A file that was refused is the fault then, not that there is none.
  const refused = faults.found.some(({ pointer }) => pointer === '/sdsFile');
  if (typed('sdsLink') === '' && typed('sdsFileId') === '' && !refused)
    faults.add('sdsLink', 'Give the web address of the safety data sheet, or choose its file.');
  const same = lots.find((lot) => lot.substance === values['substance'] && lot.supplier === typed('supplier') && lot.lotNumber === typed('lotNumber'));
  if (same)
    faults.add(
      'lotNumber',
      `Lot ${same.lotNumber} of ${same.supplier} is in the book already. For a second delivery of it, add the delivery to the lot number, such as ${same.lotNumber}/2.`,
    );
}

function checkLabels(faults: Faults, labels: string[], taken: ReadonlySet<string>): void {
  labels.forEach((label, row) => {
    if (taken.has(label))
      faults.add(`containers/${row}/label`, `A container called ${label} is in the book already. Each container keeps its own label, used up or not.`);
    else if (label !== '' && labels.indexOf(label) < row)
      faults.add(`containers/${row}/label`, `Two containers are called ${label}. Each needs its own label.`);
  });
}

function percent(faults: Faults, data: FormData, name: string, called: string, min: number): number | null {
  const read = parseDecimal(text(data, name), { name: called, min, max: 100, maxDecimals: 3 });
  if (read.ok) return read.value.value;
  faults.add(name, read.problems[0]?.detail ?? 'Write a number.');
  return null;
}

/** A share the certificate may be silent about: blank is unknown. */
function share(faults: Faults, data: FormData, name: string, called: string): number | null {
  if (text(data, name).trim() === '') return null;
  const read = parseDecimal(text(data, name), { name: called, min: 0, max: 50, maxDecimals: 2 });
  if (read.ok) return read.value.value;
  faults.add(name, read.problems[0]?.detail ?? 'Write a number.');
  return null;
}

function readContainer(faults: Faults, data: FormData, row: number): CheckedContainer {
  const at = `containers/${row}`;
  const label = text(data, `${at}/label`).trim();
  const grossMg = faults.massMg(data, `${at}/gross`, `Write what container ${row + 1} weighs full.`);
  const tareMg = faults.massMg(data, `${at}/tare`, `Write what container ${row + 1} weighs empty.`);
  if (grossMg !== null && tareMg !== null && grossMg <= tareMg)
    faults.add(`${at}/gross`, `Full it weighs ${formatMass(grossMg)}, empty ${formatMass(tareMg)}: nothing would be in it. Check both.`);
  return { label, grossMg: grossMg ?? 0, tareMg: tareMg ?? 0 };
}
