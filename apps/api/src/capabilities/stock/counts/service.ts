import type { CountOut, CountShelf } from '@ashwater/contracts';
import { formatMass } from '@ashwater/formulation';
import { DomainProblem, notFound } from '../../../problems/domain-problem.ts';
import type { StaffContext } from '../../../request-context.ts';
import { audit } from '../../audit/service.ts';
import { announce } from '../../live/service.ts';
import { EnteredFields } from '../entered.ts';
import { readScale, scalesByKey } from '../scales/service.ts';
import { holdLedger } from '../ledger-store.ts';
import { containers } from '../store.ts';
import type { ContainerRow } from '../store.ts';
import { balanceOf } from './balance.ts';
import { periodSinceLast } from './period-service.ts';
import type { OnScale } from './period-service.ts';
import * as store from './store.ts';
import { postingOf } from '../posting.ts';

type Counted = { container: ContainerRow; grossMg: number; netMg: number; firstMg: number | null };

/** A blind stock-take: compares what was weighed with the book, substance by substance, and keeps both. Moves no mass. */
export async function countShelf(context: StaffContext, input: CountShelf): Promise<CountOut> {
  const { tx, studio } = context;
  const ledgerSeq = await holdLedger(tx, studio.id);
  const all = await containers(tx, studio.id);
  const { on, counted } = await readCount(context, input, new Map(all.map((container) => [container.id, container])));
  refuseWhatIsOut(input, counted);
  const results: store.KeptResult[] = [];
  for (const substance of ['NaOH', 'KOH'] as const) {
    const these = counted.filter(({ container }) => container.substance === substance);
    if (these.length > 0) results.push(await balanceOfThese(context, input.id, these, all, on));
  }
  askAgain(input, counted, results);
  const lines = counted.map(({ container, grossMg, netMg, firstMg }) => ({ containerId: container.id, grossMg, netMg, firstMg, bookMg: container.balanceMg }));
  await store.insertCount(tx, postingOf(context), { id: input.id, ...on, ledgerSeq, results, lines });
  await audit(context, 'counted the shelf', `count:${input.id}`, { containers: lines.length });
  await announce(context, { kind: 'stock-changed', subjectId: input.id });
  const [count] = await readCounts(context, input.id);
  return count!;
}

type On = Awaited<ReturnType<typeof readScale>>;
async function readCount(context: StaffContext, input: CountShelf, byId: ReadonlyMap<string, ContainerRow>): Promise<{ on: On; counted: Counted[] }> {
  const entered = new EnteredFields();
  const on = await readScale(context, entered, input);
  const counted = input.lines.map((line, index): Counted => {
    const container = byId.get(line.containerId);
    if (!container) throw notFound('A container on this count');
    const at = `/lines/${index}`;
    if (input.lines.findIndex((other) => other.containerId === line.containerId) < index)
      entered.fault(`${at}/containerId`, `Container ${container.label} is on this count twice. Weigh it once.`);
    const faultsBefore = entered.faults.length;
    const grossMg = entered.massMg(line.gross, `${at}/gross`);
    if (entered.faults.length === faultsBefore && grossMg < container.tareMg)
      entered.fault(
        `${at}/gross`,
        `Container ${container.label} weighs ${formatMass(container.tareMg)} when empty; ${formatMass(grossMg)} is less. Weigh it again, with its lid.`,
      );
    const firstMg = (line.first ?? '').trim() === '' ? null : entered.massMg(line.first!, `${at}/first`);
    return { container, grossMg, netMg: grossMg - container.tareMg, firstMg };
  });
  entered.refuse();
  return { on, counted };
}

/**
 * Before a count is kept that does not agree, whatever it is about is weighed once more: a mistyped figure or a lid left off is
 * likelier than a loss. Says which containers, and none of the book's figures; nothing is stored until then.
 */
function askAgain(input: CountShelf, counted: Counted[], results: store.KeptResult[]): void {
  const off = results.filter(({ verdict, sinceLast }) => verdict !== 'agrees' || sinceLast?.verdict !== 'agrees').map(({ substance }) => substance);
  const errors = counted
    .filter(({ container, firstMg }) => off.includes(container.substance) && firstMg === null)
    .map(({ container }) => ({
      pointer: `/lines/${input.lines.findIndex((line) => line.containerId === container.id)}/gross`,
      detail: `Take container ${container.label} off the scale, let the scale show zero, and weigh it once more with its lid.`,
    }));
  if (errors.length > 0)
    throw new DomainProblem('recount-needed', 'Some containers are weighed once more before this count is kept. What you have written stays.', errors);
}

// What is in a class can still come back into its container: the shelf cannot agree before it has.
function refuseWhatIsOut(input: CountShelf, counted: Counted[]): void {
  const out = counted.filter(({ container }) => container.outMg > 0);
  if (out.length === 0) return;
  const errors = out.map(({ container }) => ({
    pointer: `/lines/${input.lines.findIndex((line) => line.containerId === container.id)}/containerId`,
    detail: `${formatMass(container.outMg)} from container ${container.label} is handed out and not taken back. Take it back first, then count.`,
  }));
  throw new DomainProblem('container-out', errors[0]!.detail, errors);
}

async function balanceOfThese(context: StaffContext, countId: string, these: Counted[], all: ContainerRow[], on: On): Promise<store.KeptResult> {
  const { tx, studio } = context;
  const { substance } = these[0]!.container;
  const ids = these.map(({ container }) => container.id);
  const since = await store.lastCountSeq(tx, studio.id, substance);
  const moved = await store.moved(tx, studio.id, ids, since);
  const scales = await scalesByKey(tx, studio.id);
  // Without a name, weighings at the same step are taken to come from one scale.
  const onScale = ({ scaleId, stepMg, massMg }: Parameters<OnScale>[0]): ReturnType<OnScale> => {
    const scale = scaleId === null ? undefined : scales.get(scaleId);
    return { stepMg, massMg, scaleKey: scaleId !== null && scale ? scaleId : `step:${stepMg}`, ...(scale && { scale }) };
  };
  const behindTheBook = (await store.weighings(tx, studio.id, ids)).map(({ sign, times, ...on }) => ({ ...onScale(on), sign, times }));
  const now = these.map(({ grossMg }) => ({ ...onScale({ stepMg: on.scaleStepMg, scaleId: on.scaleId, massMg: grossMg }), sign: -1 as const }));
  const counted = these.map(({ container, netMg }) => ({ label: container.label, bookMg: container.balanceMg, netMg }));
  const left = all.filter((container) => container.substance === substance && container.balanceMg > 0 && !ids.includes(container.id));
  const whole = balanceOf(
    substance,
    counted,
    moved,
    [...behindTheBook, ...now],
    left.map(({ label }) => label),
  );
  const found = these.map(({ container, netMg, grossMg }) => ({ id: container.id, netMg, grossMg }));
  return { ...whole, ...(await periodSinceLast(context, { id: countId, substance, ...on, found }, onScale)) };
}

/** The newest counts, or one. */
export async function readCounts({ tx, studio }: StaffContext, id: string | null = null): Promise<CountOut[]> {
  const rows = await store.counts(tx, studio.id, id);
  const lines = await store.countLines(
    tx,
    studio.id,
    rows.map((row) => row.id),
  );
  return rows.map((row) => ({
    ...row,
    at: row.at.toISOString(),
    results: row.results.map(({ row: _row, ...told }) => told),
    lines: lines.filter((line) => line.countId === row.id).map(({ countId: _, ...line }) => line),
  }));
}

/** What to weigh, without the book's figures: a counter who knows the answer finds it. Also what is empty by the book: it may not be. */
export async function countSheet({ tx, studio }: StaffContext) {
  const rows = await containers(tx, studio.id);
  return rows.filter((row) => row.state !== 'disposed').map(({ id, label, substance, lotNumber, tareMg }) => ({ id, label, substance, lotNumber, tareMg }));
}
