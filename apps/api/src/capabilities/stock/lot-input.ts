import { lotHydroxide } from '@ashwater/contracts';
import type { LotCertificate, ReceiveLot } from '@ashwater/contracts';
import { formatMass } from '@ashwater/formulation';
import { EnteredFields } from './entered.ts';

export type LotMasses = Omit<LotCertificate, 'substance'> & {
  scaleStepMg: number;
  containers: { id: string; label: string; grossMg: number; tareMg: number }[];
};

/** What a delivery's form says in figures. Throws `input-refused` with a fault for every field that cannot stand. */
export function readLot(input: ReceiveLot): LotMasses {
  const entered = new EnteredFields();
  const purityPercent = entered.decimal(input.purityPercent, '/purityPercent', { name: 'The purity', min: 0.001, max: 100, maxDecimals: 3 });
  const purityUncertaintyPercent = entered.decimal(input.purityUncertaintyPercent, '/purityUncertaintyPercent', {
    name: 'The uncertainty of the purity',
    min: 0,
    max: 100,
    maxDecimals: 3,
  });
  if (purityPercent > 0 && purityUncertaintyPercent >= purityPercent)
    entered.fault('/purityUncertaintyPercent', `The uncertainty (${purityUncertaintyPercent} %) must be below the purity itself (${purityPercent} %).`);
  const share = (text: string | undefined, pointer: string, name: string) =>
    text === undefined || text.trim() === '' ? null : entered.decimal(text, pointer, { name, min: 0, max: 50, maxDecimals: 2 });
  const certificate = {
    assayIs: input.assayIs ?? 'hydroxide',
    purityPercent,
    purityUncertaintyPercent,
    carbonatePercent: share(input.carbonatePercent, '/carbonatePercent', 'The carbonate share'),
    waterPercent: share(input.waterPercent, '/waterPercent', 'The water share'),
  } as const;
  const hydroxide = entered.faults.length > 0 ? undefined : lotHydroxide({ substance: input.substance, ...certificate });
  if (hydroxide?.ok === false) for (const { pointer, detail } of hydroxide.problems) entered.fault(pointer, detail);
  const scaleStepMg = entered.scaleStepMg(input.scaleStep, '/scaleStep');
  const containers = input.containers.map((container, index) => {
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
  entered.refuse();
  return { ...certificate, scaleStepMg, containers };
}
