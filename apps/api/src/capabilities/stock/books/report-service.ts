import type { BalanceOfSubstance, ReportOut, StockCharts } from '@ashwater/contracts';
import { nextNumber } from '../../../plugins/database/counter.ts';
import { DomainProblem, inputRefused, notFound } from '../../../problems/domain-problem.ts';
import type { StaffContext } from '../../../request-context.ts';
import { audit } from '../../audit/service.ts';
import { dayAfter, dayIn, startOfDay } from '../../../days.ts';
import * as reportStore from './report-store.ts';
import * as store from './store.ts';
import { postingOf } from '../posting.ts';

const SUBSTANCES = ['NaOH', 'KOH'] as const;

/**
 * The material balance of a period, frozen: what stood on the shelf, what came in and went out by kind of line, what stands there,
 * and the last count of the period with its unaccounted mass. It is closed on the ledger's newest line and keeps its hash, so that a
 * signed print later shows whether the ledger is still the one that was signed.
 */
export async function makeReport(context: StaffContext, input: { id: string; fromDay: string; toDay: string }): Promise<{ id: string }> {
  const { tx, studio, now } = context;
  if (input.toDay < input.fromDay) throw inputRefused('/toDay', 'The period ends before it begins.');
  const [from, until] = [startOfDay(input.fromDay, studio.timeZone), startOfDay(dayAfter(input.toDay), studio.timeZone)];
  if (from > now) throw inputRefused('/fromDay', 'This period has not begun.');
  const head = await reportStore.head(tx, studio.id);
  const content = { substances: await balances(context, from, until), lines: await store.linesIn(tx, studio.id, from, until) };
  const number = `R-${String(await nextNumber(tx, studio.id, 'report')).padStart(4, '0')}`;
  const by = postingOf(context);
  await reportStore.insertReport(tx, by, { ...input, number, content, headSeq: head.seq, headHash: head.hash });
  await audit(context, 'made a material balance report', `report:${input.id}`, { number, fromDay: input.fromDay, toDay: input.toDay });
  return { id: input.id };
}

async function balances({ tx, studio }: StaffContext, from: Date, until: Date): Promise<BalanceOfSubstance[]> {
  const held = await store.heldSince(tx, studio.id, from, until);
  const row = (substance: string, sort: string) => held.find((each) => each.substance === substance && each.sort === sort);
  const atStart = (substance: string, sort: string) => (row(substance, sort)?.nowMg ?? 0) - (row(substance, sort)?.sinceFromMg ?? 0);
  const atEnd = (substance: string, sort: string) => (row(substance, sort)?.nowMg ?? 0) - (row(substance, sort)?.sinceUntilMg ?? 0);
  const flows = await store.flows(tx, studio.id, from, until);
  const counts = await store.countsIn(tx, studio.id, from, until);
  return SUBSTANCES.map((substance) => {
    const side = (goesIn: boolean) =>
      flows.filter((flow) => flow.substance === substance && flow.goesIn === goesIn).map(({ kind, massMg }) => ({ kind, massMg }));
    const counted = counts.find(({ results }) => results.some((result) => result.substance === substance));
    const result = counted?.results.find((each) => each.substance === substance);
    const balance = {
      substance,
      openingMg: atStart(substance, 'container'),
      inMg: side(true),
      outMg: side(false),
      closingMg: atEnd(substance, 'container'),
      handedOutMg: atEnd(substance, 'class') + atEnd(substance, 'errand'),
      unaccountedMg: atEnd(substance, 'unaccounted'),
      count: result
        ? {
            day: dayIn(studio.timeZone, counted!.at),
            countedMg: result.countedMg,
            unaccountedMg: result.unaccountedMg,
            standardUncertaintyMg: result.standardUncertaintyMg,
            verdict: result.verdict,
            words: result.words,
          }
        : null,
    };
    assertBalanced(balance);
    return balance;
  }).filter((each) => each.openingMg + each.closingMg + each.inMg.length + each.outMg.length > 0);
}

/** Opening and what came in, less what went out, is the closing: anything else is a fault of the program or a changed database. */
function assertBalanced({ substance, openingMg, inMg, outMg, closingMg }: BalanceOfSubstance): void {
  const sum = (flows: { massMg: number }[]) => flows.reduce((total, { massMg }) => total + massMg, 0);
  if (openingMg + sum(inMg) - sum(outMg) !== closingMg) throw new Error(`the period's balance of ${substance} does not close`);
}

export async function listReports({ tx, studio }: StaffContext) {
  const rows = await reportStore.reports(tx, studio.id);
  return rows.map(({ id, number, fromDay, toDay, at, byName, signatures }) => ({ id, number, fromDay, toDay, at: at.toISOString(), byName, signatures }));
}

export async function readReport({ tx, studio, actor }: StaffContext, id: string): Promise<ReportOut> {
  const [row] = await reportStore.reports(tx, studio.id, id);
  if (!row) throw notFound('This report');
  const { content, at, signatures: _, ...report } = row;
  const signed = await reportStore.signatures(tx, studio.id, id);
  return {
    ...report,
    ...content,
    at: at.toISOString(),
    signatures: signed.map(({ accountId, byName, at: signedAt }) => ({ byName, at: signedAt.toISOString(), mine: accountId === actor.id })),
  };
}

const SIGNERS = 2;
/** Signs a report, once each; two different people make it whole. */
export async function signReport(context: StaffContext, id: string): Promise<Record<string, never>> {
  const { tx } = context;
  const report = await readReport(context, id);
  if (report.signatures.length >= SIGNERS) throw new DomainProblem('already-signed', `Report ${report.number} is signed by two people already.`);
  if (!report.stillThere)
    throw new DomainProblem('ledger-changed', `The ledger is not the one that report ${report.number} was closed on. Do not sign it; check the ledger first.`);
  if (!(await reportStore.insertSignature(tx, postingOf(context), id)))
    throw new DomainProblem('already-signed', `You have signed report ${report.number} already. The second signature is another person’s.`);
  await audit(context, 'signed a material balance report', `report:${id}`, { number: report.number });
  return {};
}

const CHART_DAYS = 180;
const DAY_MS = 86_400_000;
export async function stockCharts({ tx, studio, now }: StaffContext): Promise<StockCharts> {
  const zone = studio.timeZone;
  const days = Array.from({ length: CHART_DAYS }, (_, i) => dayIn(zone, new Date(now.getTime() - (CHART_DAYS - 1 - i) * DAY_MS)));
  const from = startOfDay(days[0]!, zone);
  const since = (await store.heldSince(tx, studio.id, from, from)).filter(({ sort }) => sort === 'container');
  const held = new Map(since.map(({ substance, nowMg, sinceFromMg }) => [substance as string, nowMg - sinceFromMg]));
  const moves = await reportStore.dailyMoves(tx, studio.id, zone, from);
  const series = days.map((day) => {
    for (const move of moves) if (move.day === day) held.set(move.substance, (held.get(move.substance) ?? 0) + move.mg);
    return { day, NaOH: held.get('NaOH') ?? 0, KOH: held.get('KOH') ?? 0 };
  });
  return { days: series, classes: await reportStore.classUse(tx, studio.id, zone) };
}
