import type { StationView } from '@ashwater/contracts';
import type { Act } from './act.ts';

const TIME_LIMIT_REASON = 'the time limit passed';

/**
 * Gear and gate without the service. A sign-off that has run out closes the gate here as it would there; nothing here ever
 * opens it: a second person's signature needs the network.
 */
export function gearAsItStands(snapshot: StationView, acts: readonly Act[], nowMs: number): Pick<StationView, 'gear' | 'gate'> {
  const { gear, gate, seat } = snapshot;
  const ranOut = gear.validUntil !== null && Date.parse(gear.validUntil) <= nowMs;
  // What was confirmed before the sign-off ended says nothing about now.
  const since = ranOut ? Date.parse(gear.validUntil ?? '') : Number.NEGATIVE_INFINITY;
  const added = acts.flatMap((act) => (act.deed.kind === 'gear' && Date.parse(act.at) >= since ? [act.deed.itemKey] : []));
  const confirmed = new Set([...(ranOut ? [] : gear.confirmed), ...added]);
  const keys = snapshot.card.content.gear.map((item) => item.key).filter((key) => confirmed.has(key));
  const complete = keys.length === snapshot.card.content.gear.length;
  const signed = gear.status === 'signed' && !ranOut;
  const lapseReason = ranOut ? TIME_LIMIT_REASON : gear.lapseReason;
  const status = signed ? 'signed' : complete ? 'waiting' : keys.length > 0 ? 'confirming' : lapseReason ? 'lapsed' : 'none';
  const partnerRanOut = !ranOut && gate.open && gate.until != null && Date.parse(gate.until) <= nowMs;
  const ended = ranOut ? [seat.name] : partnerRanOut ? ['your partner'] : [];
  return {
    gear: { status, confirmed: keys, countersignedBy: ranOut ? null : gear.countersignedBy, validUntil: ranOut ? null : gear.validUntil, lapseReason },
    gate: { open: gate.open && signed && !partnerRanOut, waitingFor: [...new Set([...gate.waitingFor, ...ended])] },
  };
}
