import type { FloorView } from '@ashwater/contracts';

type Station = FloorView['stations'][number];
export type FloorCall = { stationId: string; kind: 'alarm' | 'waiting'; words: string };

/**
 * What asks for the instructor, alarms first. Stations themselves keep the order of the room: a list that re-sorts
 * itself while a finger comes down would sign off the wrong person.
 */
export function callsOf(stations: readonly Station[]): FloorCall[] {
  const alarms = stations
    .filter((station) => station.alarms.length > 0)
    .map((station): FloorCall => ({ stationId: station.id, kind: 'alarm', words: `Alarm: ${station.name}` }));
  const waiting = stations.flatMap((station) =>
    station.seats
      .filter((seat) => !seat.signedOut && seat.gear.status === 'waiting')
      .map((seat): FloorCall => ({ stationId: station.id, kind: 'waiting', words: `${seat.name}, ${station.name}` })),
  );
  return [...alarms, ...waiting];
}

export type RollCall = {
  people: number;
  signedOut: number;
  stationsUsed: number;
  jars: number;
  stepsLeft: string[];
  jarsMissing: string[];
  stillHere: string[];
};

/** Who and what is still open at the end of a class. A station nobody joined owes nothing. */
export function rollCall(stations: readonly Station[]): RollCall {
  const used = stations.filter((station) => station.seats.length > 0);
  const seats = used.flatMap((station) => station.seats);
  return {
    people: seats.length,
    signedOut: seats.filter((seat) => seat.signedOut).length,
    stationsUsed: used.length,
    jars: used.filter((station) => station.jarNumber !== null).length,
    stepsLeft: used.filter((station) => station.stepNo !== null).map((station) => station.name),
    jarsMissing: used.filter((station) => station.jarNumber === null).map((station) => station.name),
    stillHere: seats.filter((seat) => !seat.signedOut).map((seat) => seat.name),
  };
}
export const allHome = (call: RollCall): boolean => call.stepsLeft.length + call.jarsMissing.length + call.stillHere.length === 0;

type Gear = Station['seats'][number]['gear'];
/** The state of one person's gear in words that need no colour. */
export function gearWords(gear: Gear, total: number): string {
  if (gear.status === 'signed') return `Signed off by ${gear.countersignedBy ?? 'staff'}`;
  if (gear.status === 'waiting') return 'Waiting for you to look and sign';
  if (gear.status === 'lapsed') return `Sign-off ended${gear.lapseReason ? `: ${gear.lapseReason}` : ''}`;
  return `${gear.confirmed.length} of ${total} things confirmed`;
}
