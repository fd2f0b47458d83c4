import fc from 'fast-check';

/** What people may send to a station, in any order; `who` and `ahead` are taken relative to how the station stands. */
export type Command =
  | {
      kind: 'confirm-all' | 'confirm-one' | 'countersign' | 'sign-off' | 'lapse' | 'pause' | 'sign-out' | 'gone' | 'move' | 'done' | 'jar' | 'proceed';
      who: number;
      ahead: number;
    }
  | { kind: 'reading'; who: number; ahead: number; off: boolean }
  | { kind: 'check'; who: number; as: 'own seat' | 'helper' | 'staff'; off: boolean; old: boolean }
  | { kind: 'stop' }
  | { kind: 'clear' }
  | { kind: 'join' }
  | { kind: 'visitor' }
  | { kind: 'time'; minutes: number }
  | { kind: 'again'; which: number };
const who = fc.nat({ max: 2 });
// Mostly the step whose turn it is; now and then another.
const ahead = fc.constantFrom(0, 0, 0, 0, 0, 0, 0, 1, -1, 3);
type Acting = Exclude<Extract<Command, { ahead: number }>['kind'], 'reading'>;
const acting = (...kinds: Acting[]) => fc.record({ kind: fc.constantFrom(...kinds), who, ahead });
export const command: fc.Arbitrary<Command> = fc.oneof(
  { weight: 12, arbitrary: acting('sign-off') },
  { weight: 4, arbitrary: acting('confirm-all', 'countersign', 'countersign', 'confirm-one') },
  { weight: 3, arbitrary: acting('lapse', 'pause', 'sign-out', 'gone', 'move', 'move') },
  { weight: 22, arbitrary: acting('proceed') },
  { weight: 8, arbitrary: fc.record({ kind: fc.constant('reading' as const), who, ahead, off: fc.constantFrom(false, true) }) },
  {
    weight: 8,
    arbitrary: fc.record({
      kind: fc.constant('check' as const),
      who,
      as: fc.constantFrom('own seat' as const, 'helper' as const, 'staff' as const),
      off: fc.constantFrom(false, false, true),
      old: fc.constantFrom(false, false, false, true),
    }),
  },
  { weight: 10, arbitrary: acting('done', 'done', 'jar') },
  { weight: 4, arbitrary: fc.record({ kind: fc.constantFrom('stop' as const, 'clear' as const, 'clear' as const, 'join' as const, 'visitor' as const) }) },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('time' as const), minutes: fc.integer({ min: 1, max: 130 }) }) },
  { weight: 4, arbitrary: fc.record({ kind: fc.constant('again' as const), which: fc.nat({ max: 40 }) }) },
);
