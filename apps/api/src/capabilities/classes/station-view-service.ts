import type { StationView } from '@ashwater/contracts';
import { DomainProblem, notFound } from '../../problems/domain-problem.ts';
import type { SeatContext } from '../../request-context.ts';
import { messagesTo } from '../gear/service.ts';
import type { StationSeat } from '../gear/service.ts';
import { jarOfCard } from '../jars/service.ts';
import { cardOut, currentCardAt, currentStep, readingOut, standingOf } from '../weigh-cards/service.ts';
import * as store from './store.ts';

/** When the first sign-off of those who are there runs out; the gate shuts for all of them then. */
const firstEnd = (seats: readonly StationSeat[]): string | null =>
  seats.flatMap((seat) => (seat.signedOut ? [] : (seat.gear.validUntil ?? []))).toSorted()[0] ?? null;

/** Everything a station's page shows to the seat that asks. */
export async function stationView(context: SeatContext): Promise<StationView> {
  const { tx, actor, studio, now } = context;
  const frame = await store.frame(tx, studio.id, actor.classId);
  if (!frame) throw notFound('This class');
  const row = await currentCardAt(tx, studio.id, actor.classStationId);
  if (!row) throw new DomainProblem('class-not-open', 'This station has no weigh card yet.');
  const state = await standingOf(context, row);
  const own = state.seats.find((seat) => seat.id === actor.id);
  if (!own || own.signedOut) throw new DomainProblem('seat-signed-out', 'You signed out of this station. Join again with its code.');
  return {
    studio: { id: studio.id, name: studio.name, timeZone: studio.timeZone, emergencyPhone: studio.emergencyPhone, isDemo: studio.isDemo },
    classId: frame.id,
    classTitle: frame.title,
    startsAt: frame.starts_at.toISOString(),
    room: frame.room,
    classClosed: frame.status !== 'published',
    classStationId: actor.classStationId,
    stationName: row.content.stationName,
    stopped: state.stopped,
    seat: { id: actor.id, name: actor.name },
    card: cardOut(row),
    gear: own.gear,
    gate: { ...state.gate, until: firstEnd(state.seats) },
    messages: await messagesTo(tx, studio.id, actor.classId),
    visitors: state.seats.filter((seat) => seat.noDevice && !seat.signedOut).map(({ id, name, gear }) => ({ id, name, gear })),
    currentStepNo: currentStep(state)?.no ?? null,
    done: state.stepRows.map((step) => ({ stepNo: step.step_no, at: step.at.toISOString(), byName: step.by_name })),
    readings: state.readingRows.map(readingOut),
    jar: await jarOfCard(tx, studio, row.id, now),
  };
}
