import type { ReadingOut, StationView } from '@ashwater/contracts';
import type { Act } from './act.ts';
import { gearAsItStands } from './gear.ts';
import { heldBy } from './hold.ts';
import { judgeEntered } from './judge.ts';

function addReading(view: StationView, act: Act): ReadingOut[] {
  if (act.deed.kind !== 'reading' || act.deed.cardId !== view.card.id || view.readings.some((reading) => reading.id === act.id)) return view.readings;
  const { stepNo, entered, supersedesId } = act.deed;
  const step = view.card.content.steps.find((each) => each.no === stepNo);
  const judged = step && judgeEntered(step, view.card.content, entered);
  if (!step || !judged?.ok) return view.readings;
  const caustic = ['naoh', 'koh'].includes(view.card.content.lines.find((line) => line.key === step.lineKey)?.kind ?? '');
  // A second person's reading goes to the service; until then the step is not finished.
  const second = caustic && step.kind === 'weigh' && judged.value.verdict === 'within' ? 'needed' : 'not needed';
  const reading: ReadingOut = { id: act.id, stepNo, entered, ...judged.value, at: act.at, byName: act.seatName, superseded: false, seatId: act.seatId, second };
  return [...view.readings.map((each) => (each.id === supersedesId ? { ...each, superseded: true } : each)), reading];
}

function withAct(view: StationView, act: Act): StationView {
  const { deed } = act;
  if (deed.kind === 'reading') return { ...view, readings: addReading(view, act) };
  if (deed.kind === 'stop') return { ...view, stopped: view.stopped ?? { at: act.at, byName: act.seatName, reason: deed.reason } };
  if (deed.kind !== 'done' && deed.kind !== 'jar') return view;
  if (deed.cardId !== view.card.id || view.done.some((done) => done.stepNo === deed.stepNo)) return view;
  return { ...view, done: [...view.done, { stepNo: deed.stepNo, at: act.at, byName: act.seatName }] };
}

/**
 * The station as it would stand if everything written down here had been taken: what was last seen of the service plus this
 * seat's own acts, in order. Refused acts and what hangs on them count for nothing. Acts that the snapshot holds already
 * change nothing, so an act may be both seen and kept. `nowMs`: the service's time as far as this device knows it.
 */
export function asItStands(snapshot: StationView, acts: readonly Act[], nowMs: number): StationView {
  const own = acts.filter((act) => act.seatId === snapshot.seat.id && act.state !== 'refused' && !heldBy(act, acts)).toSorted((a, b) => a.seq - b.seq);
  const { gear, gate } = gearAsItStands(snapshot, own, nowMs);
  const view = own.reduce(withAct, { ...snapshot, gear, gate });
  const doneNos = new Set(view.done.map((done) => done.stepNo));
  return { ...view, currentStepNo: view.card.content.steps.find((step) => !doneNos.has(step.no))?.no ?? null };
}
