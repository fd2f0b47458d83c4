import { ReceiveLot } from '@ashwater/contracts';
import type { FieldFault } from '@ashwater/contracts';
import { csv } from '../../../csv.ts';
import { newId } from '../../../ids.ts';
import { DomainProblem } from '../../../problems/domain-problem.ts';
import type { StaffContext } from '../../../request-context.ts';
import { readScales } from '../scales/service.ts';
import { currencyDecimals, receiveLot } from '../service.ts';
import { deliveries } from '../store.ts';
import { readLot } from '../lot-input.ts';
import { COLUMNS, deliveryOf, faultInFile, lotsOf, readRows } from './lots-csv.ts';
import type { Row } from './lots-csv.ts';

const refuse = (faults: FieldFault[]): void => {
  if (faults.length > 0) throw new DomainProblem('input-refused', `${faults[0]!.detail} Nothing of the file was taken in.`, faults);
};

type Known = { scales: ReadonlyMap<string, string>; decimals: number };

/** Checks one delivery of a file as the form's would be checked, and says where in the file a fault stands. */
function checked(rows: Row[], { scales, decimals }: Known): { delivery: ReceiveLot | undefined; faults: FieldFault[] } {
  const { scale } = rows[0]!;
  const scaleId = scales.get(scale.toLowerCase());
  if (scale !== '' && scaleId === undefined) {
    const detail = `there is no scale “${scale}” in use here. Add it first, or leave this column blank and fill “scale step g”.`;
    return { delivery: undefined, faults: [faultInFile(rows, { pointer: '/scaleId', detail })] };
  }
  const parsed = ReceiveLot.safeParse(deliveryOf(rows, newId, scaleId));
  if (!parsed.success)
    return {
      delivery: undefined,
      faults: parsed.error.issues.map((issue) => faultInFile(rows, { pointer: `/${issue.path.join('/')}`, detail: issue.message })),
    };
  try {
    readLot(parsed.data, decimals);
    return { delivery: parsed.data, faults: [] };
  } catch (error) {
    if (!(error instanceof DomainProblem)) throw error;
    return { delivery: undefined, faults: error.errors.map((each) => faultInFile(rows, each)) };
  }
}

/** Receives every delivery of a file, or none: all faults are told at once, each with its row and column. */
export async function importLots(context: StaffContext, file: string): Promise<{ lots: number; containers: number }> {
  const { rows, faults } = readRows(file);
  refuse(faults);
  const grouped = lotsOf(rows);
  const inUse = (await readScales(context)).filter(({ retiredAt }) => retiredAt === null);
  const known = { scales: new Map(inUse.map(({ name, id }) => [name.toLowerCase(), id])), decimals: await currencyDecimals(context) };
  const deliveries = grouped.lots.map((lot) => checked(lot, known));
  refuse([...grouped.faults, ...deliveries.flatMap((each) => each.faults)]);
  for (const { delivery } of deliveries) {
    try {
      await receiveLot(context, delivery!);
    } catch (error) {
      if (!(error instanceof DomainProblem)) throw error;
      throw new DomainProblem(error.code, `Lot ${delivery!.lotNumber} of ${delivery!.supplier}: ${error.message} Nothing of the file was taken in.`, [
        { pointer: '/csv', detail: `Lot ${delivery!.lotNumber} of ${delivery!.supplier}: ${error.message}` },
      ]);
    }
  }
  return { lots: deliveries.length, containers: rows.length };
}

/** Every delivery as a file that `importLots` reads: the same lots and containers come out of it. */
export async function exportLots(context: StaffContext): Promise<string> {
  const rows = await deliveries(context.tx, context.studio.id, await currencyDecimals(context));
  return csv([[...COLUMNS], ...rows]);
}
