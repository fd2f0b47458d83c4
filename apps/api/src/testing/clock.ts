/** A clock that stands still until it is moved. */
export type HandClock = { now: Date; read(): Date; forward(minutes: number): void };
export function handClock(iso = new Date().toISOString()): HandClock {
  const clock = {
    now: new Date(iso),
    read: () => clock.now,
    forward: (minutes: number) => void (clock.now = new Date(clock.now.getTime() + minutes * 60_000)),
  };
  return clock;
}
