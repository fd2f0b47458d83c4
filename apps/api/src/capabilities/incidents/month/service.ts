import type { MonthReview } from '@ashwater/contracts';
import { dayAfter, dayIn, startOfDay } from '../../../days.ts';
import { inputRefused } from '../../../problems/domain-problem.ts';
import type { StaffContext } from '../../../request-context.ts';
import { audit } from '../../audit/service.ts';
import { followUpsOf } from '../follow-ups/service.ts';
import { incidenceRate, ratePer1000h, smallNumberWords, uChart } from '../rates.ts';
import { daysToClose, daysToReview, lastDayOf, monthsUntil, tally } from './figures.ts';
import * as store from './store.ts';

/** One month's review for the team: counts, rates with their limits, and what changed. Of nobody a name. */
export async function monthReview(context: StaffContext, asked: string | null): Promise<MonthReview> {
  const { tx, studio, now } = context;
  const month = asked ?? dayIn(studio.timeZone, now).slice(0, 7);
  const months = monthsUntil(month);
  const [from, to] = [`${months[0]!}-01`, lastDayOf(month)];
  const all = await store.notesBetween(tx, studio.id, from, to);
  const notes = all.filter((note) => note.month === month);
  const taught = new Map((await store.studentHours(tx, studio.id, from, to, studio.timeZone)).map((row) => [row.month, row]));
  const hoursOf = (of: string) => taught.get(of)?.hours ?? 0;
  const counts = months.map((of) => ({ count: all.filter((note) => note.month === of).length, exposure: hoursOf(of) / 1000 }));
  const chart = uChart(counts);
  const staffHours = await store.staffHours(tx, studio.id, month);
  const staffCases = notes.filter(({ kind, staff }) => kind === 'incident' && staff).length;
  const nearMisses = notes.filter(({ kind }) => kind === 'near miss').length;
  const incidents = notes.length - nearMisses;
  const followUps = await followUpsOf(context);
  const [starts, ends] = [startOfDay(`${month}-01`, studio.timeZone), startOfDay(dayAfter(to), studio.timeZone)];
  const within = (at: string) => at >= starts.toISOString() && at < ends.toISOString();
  return {
    month,
    notes: { nearMisses, incidents },
    byCategory: tally(
      notes.map(({ category }) => category),
      'not judged yet',
    ),
    byCause: tally(
      notes.flatMap(({ causes }) => causes ?? [null]),
      'not judged yet',
    ),
    byStep: tally(
      notes.map(({ stepTitle }) => stepTitle),
      'no step named',
    ),
    nearMissesPerIncident: incidents === 0 ? null : nearMisses / incidents,
    studentHours: hoursOf(month),
    classes: taught.get(month)?.classes ?? 0,
    per1000: ratePer1000h(notes.length, hoursOf(month)),
    staffHours,
    staffCases,
    incidenceRate: staffHours === null ? null : incidenceRate(staffCases, staffHours),
    chart: chart && {
      mean: chart.mean,
      points: chart.points.map((point, index) => ({ ...point, month: months[index]!, count: counts[index]!.count, hours: hoursOf(months[index]!) })),
    },
    smallNumbers: smallNumberWords(notes.length),
    daysToReview: daysToReview(notes),
    daysToClose: daysToClose(
      followUps
        .filter(({ acts }) => within(acts[0]?.at ?? ''))
        .map(({ acts, state }) => {
          const verified = state === 'verified' ? acts.findLast(({ kind }) => kind === 'verified') : undefined;
          return { openedAt: new Date(acts[0]!.at), verifiedAt: verified ? new Date(verified.at) : null, overdue: state === 'overdue' };
        }),
    ),
    changes: followUps.flatMap(({ changes }) => changes).filter(({ since }) => within(since)),
    learned: await store.learnedBetween(tx, studio.id, starts, ends),
  };
}

const MOST_HOURS = 100_000;
/** Hours worked by everybody who is paid here, in one month. Written again, the newest figure holds. */
export async function setStaffHours(context: StaffContext, { month, hours: typed }: { month: string; hours: string }): Promise<Record<string, never>> {
  const text = typed.trim().replace(/\s*h$/, '');
  const hours = Number(text);
  if (!/^\d+(\.\d{1,2})?$/.test(text) || hours > MOST_HOURS)
    throw inputRefused('/hours', 'Write the hours of the month as a number such as 184 or 92.5, from 0 to 100000.');
  await store.setStaffHours(context.tx, context.studio.id, { month, hours, accountId: context.actor.id, at: context.now });
  await audit(context, 'wrote the hours of staff', `month:${month}`, { hours });
  return {};
}
