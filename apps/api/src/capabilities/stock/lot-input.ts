import { lotHydroxide } from '@ashwater/contracts';
import type { LotCertificate, ReceiveLot } from '@ashwater/contracts';
import { formatMass } from '@ashwater/formulation';
import { EnteredFields } from './entered.ts';

export type LotMasses = Omit<LotCertificate, 'substance'> & {
  /** null where a scale is named: its own step stands */
  scaleStepMg: number | null;
  priceMinor: number | null;
  freightMinor: number | null;
  leadDays: number | null;
  containers: { id: string; label: string; grossMg: number; tareMg: number }[];
};

/** Price of a whole lot, as large as its column bears without losing a cent. */
const MOST_PRICE = 10_000_000;
const blank = (text: string | undefined): text is undefined | '' => text === undefined || text.trim() === '';

/** What was paid, in the currency's smallest unit, and how long it took. Blank is unknown, not nothing. */
function readBuying(entered: EnteredFields, input: ReceiveLot, decimals: number): Pick<LotMasses, 'priceMinor' | 'freightMinor' | 'leadDays'> {
  const money = (text: string | undefined, pointer: string, name: string) =>
    blank(text) ? null : Math.round(entered.decimal(text, pointer, { name, min: 0, max: MOST_PRICE, maxDecimals: decimals }) * 10 ** decimals);
  return {
    priceMinor: money(input.price, '/price', 'The price'),
    freightMinor: money(input.freight, '/freight', 'The freight'),
    leadDays: blank(input.leadDays) ? null : entered.decimal(input.leadDays, '/leadDays', { name: 'The lead time in days', min: 0, max: 365, maxDecimals: 0 }),
  };
}

/**
 * What a delivery's form says in figures. Throws `input-refused` with a fault for every field that cannot stand.
 * @param decimals of the studio's currency
 */
export function readLot(input: ReceiveLot, decimals = 2): LotMasses {
  const entered = new EnteredFields();
  if (input.sdsLink === '' && !input.sdsFileId) entered.fault('/sdsLink', 'Give the web address of the safety data sheet, or its file.');
  if (blank(input.purityPercent))
    entered.fault('/purityPercent', 'Write the purity by the certificate: without it no safe weigh card can be made. Ask the supplier.');
  const purityPercent = blank(input.purityPercent)
    ? 0
    : entered.decimal(input.purityPercent, '/purityPercent', { name: 'The purity', min: 0.001, max: 100, maxDecimals: 3 });
  const purityUncertaintyPercent = entered.decimal(input.purityUncertaintyPercent, '/purityUncertaintyPercent', {
    name: 'The uncertainty of the purity',
    min: 0,
    max: 100,
    maxDecimals: 3,
  });
  if (purityPercent > 0 && purityUncertaintyPercent >= purityPercent)
    entered.fault('/purityUncertaintyPercent', `The uncertainty (${purityUncertaintyPercent} %) must be below the purity itself (${purityPercent} %).`);
  const share = (text: string | undefined, pointer: string, name: string) =>
    blank(text) ? null : entered.decimal(text, pointer, { name, min: 0, max: 50, maxDecimals: 2 });
  const certificate = {
    assayIs: input.assayIs ?? 'hydroxide',
    purityPercent,
    purityUncertaintyPercent,
    carbonatePercent: share(input.carbonatePercent, '/carbonatePercent', 'The carbonate share'),
    waterPercent: share(input.waterPercent, '/waterPercent', 'The water share'),
  } as const;
  const hydroxide = entered.faults.length > 0 ? undefined : lotHydroxide({ substance: input.substance, ...certificate });
  if (hydroxide?.ok === false) for (const { pointer, detail } of hydroxide.problems) entered.fault(pointer, detail);
  const scaleStepMg = input.scaleId ? null : entered.scaleStepMg(input.scaleStep ?? '', '/scaleStep');
  const buying = readBuying(entered, input, decimals);
  const containers = readContainers(entered, input);
  entered.refuse();
  return { ...certificate, ...buying, scaleStepMg, containers };
}

function readContainers(entered: EnteredFields, input: ReceiveLot): LotMasses['containers'] {
  return input.containers.map((container, index) => {
    const at = `/containers/${index}`;
    const faultsBefore = entered.faults.length;
    const grossMg = entered.massMg(container.gross, `${at}/gross`);
    const tareMg = entered.massMg(container.tare, `${at}/tare`);
    if (entered.faults.length === faultsBefore && grossMg <= tareMg)
      entered.fault(
        `${at}/gross`,
        `The full container weighs ${formatMass(grossMg)}, its empty weight is ${formatMass(tareMg)}: nothing would be in it. Check both.`,
      );
    if (input.containers.findIndex((other) => other.label === container.label) < index)
      entered.fault(`${at}/label`, `Two containers are called ${container.label}. Each needs its own label.`);
    return { id: container.id, label: container.label, grossMg, tareMg };
  });
}
