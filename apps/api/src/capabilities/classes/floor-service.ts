import type { CardContent, FloorStation, FloorView } from '@ashwater/contracts';
import { formatMass } from '@ashwater/formulation';
import { notFound } from '../../problems/domain-problem.ts';
import type { StaffContext } from '../../request-context.ts';
import { currentStop, messagesTo, seatsWithGear, stationGate } from '../gear/service.ts';
import { numbersByCard } from '../jars/service.ts';
import { lastSeq } from '../live/service.ts';
import { readCheckOuts } from '../stock/service.ts';
import { cardsInForce, stepsDone } from '../weigh-cards/service.ts';
import * as store from './store.ts';

type Reading = Awaited<ReturnType<typeof cardsInForce>>['readings'][number];
type Seats = NonNullable<ReturnType<Awaited<ReturnType<typeof seatsWithGear>>['get']>>;
type Step = CardContent['steps'][number];

function readingWords(reading: Reading, steps: readonly Step[]): string {
  const what = steps.find((step) => step.no === reading.step_no)?.title ?? 'Reading';
  // Whoever reads second must not know the first number.
  if (reading.second === 'needed' && !reading.superseded) return `${what}: recorded`;
  const value = reading.mass_mg !== null ? formatMass(reading.mass_mg) : `${(reading.temperature_milli_c ?? 0) / 1000} °C`;
  return `${what}: ${value}${reading.source === 'paper' ? ', from paper' : ''}`;
}

function alarmsOf(reading: Reading | undefined, steps: readonly Step[], step: Step | undefined, seats: Seats, gateOpen: boolean): string[] {
  const alarms: string[] = [];
  if (reading && !reading.superseded && reading.verdict !== 'within')
    alarms.push(`${readingWords(reading, steps)} is ${reading.verdict === 'over' ? 'over' : 'under'} the accepted range`);
  for (const seat of seats)
    if (!seat.signedOut && seat.gear.lapseReason && seat.gear.status !== 'signed')
      alarms.push(`The gear sign-off of ${seat.name} lapsed: ${seat.gear.lapseReason}`);
  if (step?.caustic && !gateOpen && seats.some((seat) => !seat.signedOut)) alarms.push('Waits at a caustic step for gear sign-off');
  return alarms;
}

/** All stations of a class at once, with the same number of queries however many there are. */
export async function floorView(context: StaffContext, classId: string): Promise<FloorView> {
  const { tx, studio, now } = context;
  const frame = await store.frame(tx, studio.id, classId);
  if (!frame) throw notFound('This class');
  // Read first: what happens while the rest is read is announced again with a higher number.
  const eventSeq = await lastSeq(tx, studio.id);
  const stations = await store.stationFrames(tx, studio.id, classId);
  const { cards, readings: readingRows } = await cardsInForce(tx, studio.id, classId);
  const cardIds = cards.map((card) => card.id);
  const seatsAt = await seatsWithGear(tx, studio.id, classId, null, now);
  const done = await stepsDone(tx, studio.id, cardIds);
  const jars = await numbersByCard(tx, studio.id, cardIds);

  const view = (station: (typeof stations)[number]): FloorStation => {
    const card = cards.find((each) => each.classStationId === station.id);
    const seats = seatsAt.get(station.id) ?? [];
    const steps = card?.content.steps ?? [];
    const doneNos = new Set(done.filter((row) => row.card_id === card?.id).map((row) => row.step_no));
    const step = steps.find((each) => !doneNos.has(each.no));
    const atStep = step?.kind === 'weigh' && readingRows.find((row) => row.card_id === card?.id && row.step_no === step.no && !row.superseded);
    const last = readingRows.filter((row) => row.card_id === card?.id).at(-1);
    const gateOpen = stationGate(seats).open;
    const heat = readingRows.filter((row) => row.card_id === card?.id && row.temperature_milli_c !== null).at(-1);
    const unchecked = readingRows.find((row) => row.card_id === card?.id && row.step_no === step?.no && !row.superseded && row.second === 'needed');
    return {
      id: station.id,
      name: station.name,
      joinCode: station.join_code,
      cardId: card?.id ?? null,
      cardNumber: card?.number ?? null,
      seats: seats.map((seat) => ({ ...seat, gearTotal: card?.content.gear.length ?? 0 })),
      gear: card?.content.gear ?? [],
      gateOpen,
      stepNo: step?.no ?? null,
      stepCount: steps.length,
      stepTitle: step?.title ?? (steps.length > 0 ? 'All steps done' : 'No card yet'),
      temperature: heat ? { text: `${(heat.temperature_milli_c ?? 0) / 1000} °C`, verdict: heat.verdict, at: heat.at.toISOString() } : null,
      lastReading: last
        ? {
            text: readingWords(last, steps),
            verdict: last.verdict,
            at: last.at.toISOString(),
            byName: last.source === 'paper' ? `${last.by_name}, from paper` : last.by_name,
          }
        : null,
      secondReading: unchecked ? { readingId: unchecked.id, what: step?.title ?? '', byName: unchecked.by_name } : null,
      jarNumber: jars.find((jar) => jar.card_id === card?.id)?.number ?? null,
      strayStepNo: atStep && atStep.verdict !== 'within' ? atStep.step_no : null,
      alarms: alarmsOf(last, steps, step, seats, gateOpen),
    };
  };
  return {
    classId,
    title: frame.title,
    startsAt: frame.starts_at.toISOString(),
    room: frame.room,
    timeZone: studio.timeZone,
    status: frame.status,
    joinCode: frame.join_code,
    stopped: await currentStop(tx, studio.id, classId),
    stations: stations.map(view),
    messages: await messagesTo(tx, studio.id, classId),
    containersOut: (await readCheckOuts(context, classId)).filter((out) => out.returnedMg === null).map((out) => out.containerLabel),
    readAt: now.toISOString(),
    eventSeq,
  };
}
