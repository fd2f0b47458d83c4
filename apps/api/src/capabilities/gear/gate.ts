import type { GearState } from '@ashwater/contracts';

/** What was done about one seat's gear, oldest first. */
export type GearAct =
  | { kind: 'confirmed'; itemKey: string; at: Date }
  | { kind: 'countersigned'; byName: string; at: Date; validUntil: Date }
  | { kind: 'lapsed'; reason: string; at: Date };

export const TIME_LIMIT_REASON = 'the time limit passed';

/**
 * The state of one seat's gear now. A countersignature holds until it lapses by an act or by time; after a lapse every
 * item is confirmed again, since what was seen then says nothing about now.
 */
export function gearState(acts: readonly GearAct[], itemKeys: readonly string[], now: Date): GearState {
  let confirmed = new Set<string>();
  let signed: { byName: string; validUntil: Date } | null = null;
  let lapseReason: string | null = null;
  const lapse = (reason: string) => {
    confirmed = new Set();
    signed = null;
    lapseReason = reason;
  };
  const lapseByTime = (at: Date) => {
    if (signed && at >= signed.validUntil) lapse(TIME_LIMIT_REASON);
  };
  for (const act of acts) {
    lapseByTime(act.at);
    if (act.kind === 'confirmed') confirmed.add(act.itemKey);
    else if (act.kind === 'lapsed') lapse(act.reason);
    else {
      signed = { byName: act.byName, validUntil: act.validUntil };
      lapseReason = null;
    }
  }
  lapseByTime(now);
  const complete = itemKeys.every((key) => confirmed.has(key));
  const holding = signed as { byName: string; validUntil: Date } | null;
  return {
    status: holding && complete ? 'signed' : complete ? 'waiting' : confirmed.size > 0 ? 'confirming' : lapseReason ? 'lapsed' : 'none',
    confirmed: itemKeys.filter((key) => confirmed.has(key)),
    countersignedBy: holding?.byName ?? null,
    validUntil: holding?.validUntil.toISOString() ?? null,
    lapseReason,
  };
}

export type SeatGear = { name: string; signedOut: boolean; gear: GearState };

/** A station's caustic steps are open only while somebody is there and everybody there is signed off. */
export function stationGate(seats: readonly SeatGear[]): { open: boolean; waitingFor: string[] } {
  const there = seats.filter((seat) => !seat.signedOut);
  const waitingFor = there.filter((seat) => seat.gear.status !== 'signed').map((seat) => seat.name);
  return { open: there.length > 0 && waitingFor.length === 0, waitingFor };
}
