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
      .map((seat): FloorCall => ({ stationId: station.id, kind: 'waiting', words: `Look and sign: ${seat.name}, ${station.name}` })),
  );
  const readings = stations
    .filter((station) => station.secondReading !== null)
    .map((station): FloorCall => ({ stationId: station.id, kind: 'waiting', words: `Read the scale: ${station.name}` }));
  return [...alarms, ...readings, ...waiting];
}

export type RollCall = {
  people: number;
  signedOut: number;
  stationsUsed: number;
  jars: number;
  stepsLeft: string[];
  jarsMissing: string[];
  stillHere: string[];
  containersOut: string[];
};

/** Who and what is still open at the end of a class. A station nobody joined owes nothing. */
export function rollCall({ stations, containersOut }: Pick<FloorView, 'stations' | 'containersOut'>): RollCall {
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
    containersOut: [...new Set(containersOut)],
  };
}
export const allHome = (call: RollCall): boolean => call.stepsLeft.length + call.jarsMissing.length + call.stillHere.length + call.containersOut.length === 0;

type Gear = Station['seats'][number]['gear'];
/** The state of one person's gear in words that need no colour. */
export function gearWords(gear: Gear, total: number): string {
  if (gear.status === 'signed') return `Signed off by ${gear.countersignedBy ?? 'staff'}`;
  if (gear.status === 'waiting') return 'Waiting for you to look and sign';
  if (gear.status === 'lapsed') return `Sign-off ended${gear.lapseReason ? `: ${gear.lapseReason}` : ''}`;
  return `${gear.confirmed.length} of ${total} things confirmed`;
}

export type WallState = { mark: 'stop' | 'alarm' | 'wait' | 'go' | 'done' | 'empty'; words: string };
/** One station's state on the wall: the one thing that matters most, in at most a few words; `mark` is its shape. */
export function wallState(station: Station): WallState {
  const here = station.seats.filter((seat) => !seat.signedOut);
  if (station.alarms.length > 0) return { mark: 'alarm', words: alarmWords(station) };
  if (station.secondReading) return { mark: 'wait', words: 'Second reading' };
  if (here.some((seat) => seat.gear.status === 'waiting')) return { mark: 'wait', words: 'Look and sign' };
  if (station.stepNo === null && station.stepCount > 0 && station.seats.length > 0) return { mark: 'done', words: here.length > 0 ? 'Done' : 'Signed out' };
  if (here.length === 0) return { mark: 'empty', words: 'Nobody here' };
  return station.gateOpen ? { mark: 'go', words: 'Gear signed' } : { mark: 'empty', words: 'Gear not signed' };
}
function alarmWords({ strayStepNo, seats, temperature }: Station): string {
  if (strayStepNo !== null) return 'Reading off target';
  if (temperature && temperature.verdict === 'over') return 'Too hot';
  return seats.some((seat) => !seat.signedOut && seat.gear.status !== 'signed') ? 'Gear missing' : 'Look here';
}
