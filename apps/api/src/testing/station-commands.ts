import fc from 'fast-check';

type Common = {
  who: number;
  /** Sent by somebody whose work it is not: never counts. */
  wrong: boolean;
};
/** Relative to the step whose turn it is; `old`: at an issue of the card that was replaced, where there is one. */
type AtCard = { ahead: number; old: boolean };
export type Off = 'no' | 'far' | 'over';
/** What people may send to a station, in any order; `who` and `ahead` are taken relative to how the station stands. */
export type Command = Common &
  (
    | { kind: 'confirm-all' | 'confirm-one' | 'lapse' | 'pause' | 'sign-out' | 'gone' | 'move' | 'stop' | 'clear' | 'visitor' | 'add' }
    | { kind: 'countersign'; byInstructor: boolean }
    | { kind: 'sign-off'; byInstructor: boolean; everybody: boolean }
    | { kind: 'join'; own: boolean }
    | ({ kind: 'done' | 'jar' } & AtCard)
    | { kind: 'proceed'; times: number }
    | ({ kind: 'reading'; off: Off } & AtCard)
    | { kind: 'check'; as: 'own seat' | 'helper' | 'staff'; off: boolean; old: boolean; first: boolean }
    | ({ kind: 'paper'; lines: number; off: Off; second: 'good' | 'off' | 'none' } & AtCard)
    | ({ kind: 'paper jar'; enter: boolean } & AtCard)
    | { kind: 'approve'; mixed: boolean; stray: boolean; meanwhile: 'nothing' | 'a reading' | 'a stop'; old: boolean }
    | { kind: 'amend'; confirm: boolean; old: boolean; hurry: boolean }
    | { kind: 'reschedule' | 'close' | 'cancel' }
    | { kind: 'time'; minutes: number }
    | { kind: 'again'; which: number }
  );
export type Kind = Command['kind'];
/** Of one kind, without what all have. */
type Of<C, K extends Kind> = C extends { kind: unknown } ? (K extends C['kind'] ? Omit<C, keyof Common | 'kind'> : never) : never;

const yes = (one: number, of: number) => fc.nat({ max: of - 1 }).map((n) => n < one);
const common = { who: fc.nat({ max: 2 }), wrong: yes(1, 14) };
// Mostly the step whose turn it is; now and then another.
const atCard = { ahead: fc.constantFrom(0, 0, 0, 0, 0, 0, 0, 1, -1, 3), old: yes(1, 6) };
const off = fc.constantFrom<Off>('no', 'no', 'far', 'over');
const mixed = fc.boolean();
const plain = (...kinds: Kind[]) => fc.record({ kind: fc.constantFrom(...kinds), ...common }) as fc.Arbitrary<Command>;
const more = <K extends Kind>(kind: K, fields: { [F in keyof Of<Command, K>]: fc.Arbitrary<Of<Command, K>[F]> }) =>
  fc.record({ kind: fc.constant(kind), ...common, ...fields }) as unknown as fc.Arbitrary<Command>;
// Few of each, so that it is more often tried by the wrong person.
const PRESENCE: Kind[] = ['lapse', 'pause', 'sign-out', 'gone', 'move', 'add', 'add', 'visitor'];
const check = more('check', {
  as: fc.constantFrom('own seat', 'helper', 'staff'),
  off: yes(1, 3),
  old: yes(1, 6),
  first: yes(3, 4),
});
const paper = more('paper', { ...atCard, lines: fc.integer({ min: 1, max: 4 }), off, second: fc.constantFrom('good', 'good', 'off', 'none') });

const during: fc.Arbitrary<Command> = fc.oneof(
  { weight: 18, arbitrary: more('sign-off', { byInstructor: fc.boolean(), everybody: yes(3, 4) }) },
  { weight: 3, arbitrary: more('countersign', { byInstructor: fc.boolean() }) },
  { weight: 2, arbitrary: plain('confirm-all', 'confirm-one') },
  { weight: 16, arbitrary: fc.record({ kind: fc.constantFrom(...PRESENCE), ...common, wrong: yes(1, 3) }) as fc.Arbitrary<Command> },
  { weight: 22, arbitrary: more('proceed', { times: fc.integer({ min: 1, max: 5 }) }) },
  { weight: 6, arbitrary: more('reading', { ...atCard, off }) },
  { weight: 16, arbitrary: check },
  { weight: 7, arbitrary: fc.oneof(more('done', atCard), more('jar', atCard)) },
  { weight: 5, arbitrary: paper },
  { weight: 7, arbitrary: more('paper jar', { ...atCard, enter: yes(1, 2) }) },
  {
    weight: 6,
    arbitrary: more('approve', {
      mixed,
      stray: yes(3, 4),
      meanwhile: fc.constantFrom('nothing', 'nothing', 'nothing', 'nothing', 'a reading', 'a stop'),
      old: yes(1, 10),
    }),
  },
  { weight: 5, arbitrary: more('amend', { confirm: yes(3, 4), old: yes(1, 6), hurry: yes(3, 4) }) },
  { weight: 4, arbitrary: fc.record({ kind: fc.constantFrom('stop', 'reschedule'), ...common, wrong: yes(1, 3) }) as fc.Arbitrary<Command> },
  { weight: 10, arbitrary: plain('clear') },
  { weight: 3, arbitrary: more('join', { own: yes(1, 3) }) },
  { weight: 1, arbitrary: more('time', { minutes: fc.integer({ min: 1, max: 130 }) }) },
  { weight: 4, arbitrary: more('again', { which: fc.nat({ max: 60 }) }) },
);
/** What is sent when the class is over: little of it may count. */
const after: fc.Arbitrary<Command> = fc.oneof(
  { weight: 3, arbitrary: during },
  { weight: 2, arbitrary: plain('visitor', 'add', 'close', 'cancel', 'reschedule') },
  {
    weight: 2,
    arbitrary: fc.oneof(
      paper,
      more('amend', { confirm: fc.constant(true), old: fc.constant(false), hurry: fc.constant(false) }),
      more('join', { own: fc.boolean() }),
    ),
  },
);
const ending = fc.record({ kind: fc.constantFrom('close', 'cancel'), who: fc.constant(0), wrong: fc.constant(false) }) as fc.Arbitrary<Command>;

/** A class day: so many commands, its end, and some more. */
export const classDay = (length: number, more: number): fc.Arbitrary<Command[]> =>
  fc
    .tuple(fc.array(during, { minLength: length, maxLength: length }), ending, fc.array(after, { minLength: more, maxLength: more }))
    .map(([before, end, then]) => [...before, end, ...then]);
