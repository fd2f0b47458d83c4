import { drain } from './drain.ts';
import { send, stationNow, whoseSeat } from './link.ts';
import { keepSnapshot, keptSnapshot, outbox } from './store.ts';

/** `no-link`: nothing answered. `no-seat`: this device holds no seat now. `other-seat`: somebody else's. `drained`: all that can be sent is. */
export type Synced = { end: 'no-link' | 'no-seat' | 'other-seat' | 'drained'; seatId: string | null };

async function once(): Promise<Synced> {
  const who = await whoseSeat();
  if (!who) return { end: 'no-link', seatId: null };
  const { seatId, aheadMs } = who;
  const kept = await keptSnapshot();
  if (seatId === null) return { end: 'no-seat', seatId };
  if ((await drain(outbox, seatId, send)).end === 'no-link') return { end: 'no-link', seatId };
  // Acts taken before the view is asked for are in the view.
  const seen = (await outbox.all()).filter((act) => act.seatId === seatId && act.state === 'sent').map((act) => act.seq);
  const view = await stationNow();
  if (view) await keepSnapshot({ seatId, view, savedAt: new Date().toISOString(), aheadMs, awaySince: null }, seen);
  return { end: kept && kept.seatId !== seatId ? 'other-seat' : 'drained', seatId };
}

let running: Promise<Synced> | null = null;

/** One round: who am I, send what waits, read how things stand, keep it. Two rounds at once would only ask everything twice. */
export function sync(): Promise<Synced> {
  running ??= once().finally(() => (running = null));
  return running;
}
