import type { AddFat, FieldFault } from '@ashwater/contracts';
import { FATS, parseDecimal } from '@ashwater/formulation';
import { DomainProblem } from '../../problems/domain-problem.ts';

type Range = { low: number; high: number };
export type FatFigures = {
  name: string;
  botanicalName: string;
  saponificationValue: Range;
  iodineValue: Range | null;
  densityGPerMl: number | null;
  unsaponifiablePercent: number | null;
  source: string;
};

/** Outside these no fat or wax lies: jojoba's published range starts at 92, that of short-chain fats ends below 270; a slip of a digit falls out. */
const SAPONIFICATION = { min: 50, max: 400, maxDecimals: 2 };
const IODINE = { min: 0, max: 250, maxDecimals: 2 };
const DENSITY = { name: 'The density', min: 0.8, max: 1.1, maxDecimals: 4 };
const UNSAPONIFIABLE = { name: 'The unsaponifiable share', min: 0, max: 60, maxDecimals: 2 };
const DAY = /^\d{4}-\d{2}-\d{2}$/;
const isDay = (text: string): boolean => DAY.test(text) && !Number.isNaN(Date.parse(text)) && new Date(text).toISOString().startsWith(text);
const blank = (text: string): boolean => text.trim() === '';

/**
 * Reads the form of an own fat. Throws `input-refused` with every fault at its field.
 * @param today the studio's calendar day or later, YYYY-MM-DD: a document dated after it is a slip
 */
export function readFat(input: AddFat, today: string): FatFigures {
  const faults: FieldFault[] = [];
  const number = (field: keyof AddFat, rule: Parameters<typeof parseDecimal>[1]): number => {
    const read = parseDecimal(input[field], rule);
    if (read.ok) return read.value.value;
    faults.push({ pointer: `/${field}`, detail: read.problems[0]?.detail ?? 'Not readable as a number.' });
    return Number.NaN;
  };
  const range = (low: keyof AddFat, high: keyof AddFat, called: string, rule: typeof IODINE): Range => {
    const read = { low: number(low, { ...rule, name: `The lowest ${called}` }), high: number(high, { ...rule, name: `The highest ${called}` }) };
    if (read.low > read.high) faults.push({ pointer: `/${high}`, detail: `The highest ${called} (${read.high}) is below the lowest (${read.low}).` });
    return read;
  };
  const same = FATS.find((fat) => fat.name.toLowerCase() === input.name.toLowerCase());
  if (blank(input.name)) faults.push({ pointer: '/name', detail: 'Write a name.' });
  if (same) faults.push({ pointer: '/name', detail: `${same.name} is in the service's list already. Name what tells yours apart, such as the supplier.` });
  const figures: FatFigures = {
    name: input.name,
    botanicalName: input.botanicalName,
    saponificationValue: range('svLow', 'svHigh', 'saponification value', SAPONIFICATION),
    iodineValue: blank(input.iodineLow) && blank(input.iodineHigh) ? null : range('iodineLow', 'iodineHigh', 'iodine value', IODINE),
    densityGPerMl: blank(input.densityGPerMl) ? null : number('densityGPerMl', DENSITY),
    unsaponifiablePercent: blank(input.unsaponifiablePercent) ? null : number('unsaponifiablePercent', UNSAPONIFIABLE),
    source: `${input.source}, ${input.sourceOn.trim()}`,
  };
  if (blank(input.source)) faults.push({ pointer: '/source', detail: 'Write what document the figures are from, such as the certificate of a lot.' });
  const day = input.sourceOn.trim();
  if (!isDay(day)) faults.push({ pointer: '/sourceOn', detail: 'Give the date that stands on the document.' });
  else if (day > today) faults.push({ pointer: '/sourceOn', detail: 'This day is still to come. Give the date that stands on the document.' });
  if (faults.length > 0) throw new DomainProblem('input-refused', faults[0]?.detail ?? '', faults);
  return figures;
}
