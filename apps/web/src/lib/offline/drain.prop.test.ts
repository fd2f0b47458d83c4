import { expect, test } from 'vitest';
import fc from 'fast-check';
import type { Act, Deed, Refusal } from './act.ts';
import { drain } from './drain.ts';
import type { Answer, Outbox } from './drain.ts';
import { heldBy } from './hold.ts';
import { judgeEntered } from './judge.ts';
import { asItStands } from './stand.ts';
import { actOf, done, read, refusal, SEEN_AT, STEPS, stationView } from './testing.ts';

/*
 * A model of the service's rules, written apart from the code under test: one key acts once and gets the first answer again;
 * steps go in order; a reading names the one it replaces; a step needs its reading within the range.
 */
class ServiceModel {
  readonly once: boolean;
  readonly log: string[] = [];
  readonly done: number[] = [];
  readonly standing = new Map<number, { id: string; verdict: string }>();
  readonly #answers = new Map<string, Answer>();
  constructor(once: boolean) {
    this.once = once;
  }
  take(act: Act): Answer {
    const earlier = this.once ? this.#answers.get(act.id) : undefined;
    if (earlier) return earlier;
    const code = this.#fault(act.deed);
    if (code) return { kind: 'refused', refusal: refusal(code) };
    this.log.push(act.id);
    if (act.deed.kind === 'reading') this.standing.set(act.deed.stepNo, { id: act.id, verdict: this.#verdict(act.deed) });
    if (act.deed.kind === 'done' || act.deed.kind === 'jar') this.done.push(act.deed.stepNo);
    this.#answers.set(act.id, { kind: 'taken' });
    return { kind: 'taken' };
  }
  /** Somebody else at the station does what comes next, with the link up. */
  partnerGoesOn(): void {
    const no = this.done.length + 1;
    if (no > STEPS.length) return;
    const id = `partner-${String(this.log.length)}`;
    const weighed = STEPS[no - 1]!.kind === 'weigh';
    const standing = this.standing.get(no) ?? null;
    const deed = weighed && standing?.verdict !== 'within' ? read(no, '141', standing?.id ?? null) : STEPS[no - 1]!.kind === 'temperature' ? null : done(no);
    if (deed) this.take(actOf(0, deed, { id, seatId: 'seat-2' }));
  }
  #verdict(deed: Extract<Deed, { kind: 'reading' }>): string {
    const judged = judgeEntered(STEPS[deed.stepNo - 1]!, stationView().card.content, deed.entered);
    return judged.ok ? judged.value.verdict : 'unreadable';
  }
  #fault(deed: Deed): string | null {
    if (!('stepNo' in deed)) return null;
    if (deed.stepNo !== this.done.length + 1) return 'step-out-of-order';
    const standing = this.standing.get(deed.stepNo);
    if (deed.kind === 'reading') return (standing?.id ?? null) === deed.supersedesId ? null : 'reading-superseded';
    const weighed = ['weigh', 'temperature'].includes(STEPS[deed.stepNo - 1]!.kind);
    return weighed && standing?.verdict !== 'within' ? 'reading-off-target' : null;
  }
}

class Memory implements Outbox {
  readonly acts: Act[] = [];
  async all() {
    return structuredClone(this.acts);
  }
  async mark(seq: number, state: Act['state'], why: Refusal | null) {
    Object.assign(
      this.acts.find((act) => act.seq === seq)!,
      { state, refusal: why },
    );
  }
}

/** What the link does to one try. `gone`: the page closes after the service acted and before the answer was written down. */
type Fate = 'well' | 'cut' | 'lost' | 'twice' | 'gone';
type Move = { move: 'right' | 'wrong' | 'other' | 'partner' } | { move: 'drain'; fates: Fate[] };

/** What the student does next on the page as it stands. */
function nextDeed(acts: readonly Act[], move: 'right' | 'wrong' | 'other'): Deed | null {
  if (move === 'other') return { kind: 'gear', itemKey: 'gloves' };
  const view = asItStands(stationView(), acts, Date.parse(SEEN_AT));
  const step = STEPS.find((each) => each.no === view.currentStepNo);
  if (!step) return null;
  if (step.kind === 'label') return { kind: 'jar', cardId: 'card-1', stepNo: step.no, mass: '900' };
  if (step.kind !== 'weigh' && step.kind !== 'temperature') return done(step.no);
  const standing = view.readings.find((reading) => reading.stepNo === step.no && !reading.superseded);
  if (move === 'right' && standing?.verdict === 'within') return done(step.no);
  const right = step.kind === 'weigh' ? '141' : '30';
  return read(step.no, move === 'right' ? right : '1', standing?.id ?? null);
}

/** The drain with its rule left out that nothing is sent past a try without an answer. */
async function careless(outbox: Outbox, _: string, send: (act: Act) => Promise<Answer>): Promise<void> {
  for (const act of await outbox.all()) {
    if (act.state !== 'waiting') continue;
    const answer = await send(act);
    if (answer.kind !== 'none') await outbox.mark(act.seq, answer.kind === 'taken' ? 'sent' : 'refused', answer.kind === 'refused' ? answer.refusal : null);
  }
}

async function play(moves: readonly Move[], once: boolean, how: (outbox: Outbox, seat: string, send: (act: Act) => Promise<Answer>) => Promise<unknown>) {
  const service = new ServiceModel(once);
  const outbox = new Memory();
  const through = (fates: Fate[]) => async (act: Act) => {
    const fate = fates.shift() ?? 'cut';
    if (fate === 'cut') return { kind: 'none' } as const;
    const answer = service.take(act);
    if (fate === 'twice') return service.take(act);
    if (fate === 'gone') throw new Error('the page was closed');
    return fate === 'lost' ? ({ kind: 'none' } as const) : answer;
  };
  for (const move of moves) {
    if (move.move === 'partner') service.partnerGoesOn();
    else if (move.move === 'drain') await how(outbox, 'seat-1', through([...move.fates])).catch(() => undefined);
    else {
      const deed = nextDeed(outbox.acts, move.move);
      if (deed) outbox.acts.push(actOf(outbox.acts.length + 1, deed));
    }
  }
  await how(outbox, 'seat-1', async (act) => service.take(act));
  return { service, acts: outbox.acts };
}

const fates = fc.array(fc.constantFrom<Fate>('well', 'well', 'cut', 'lost', 'twice', 'gone'), { maxLength: 8 });
const moves = fc.array(
  fc.oneof(
    { weight: 3, arbitrary: fc.record({ move: fc.constantFrom('right' as const, 'right' as const, 'wrong' as const, 'other' as const) }) },
    { weight: 2, arbitrary: fc.record({ move: fc.constant('drain' as const), fates }) },
  ),
  { maxLength: 40 },
);
const holds = (once: boolean, how: Parameters<typeof play>[2]) =>
  fc.asyncProperty(moves, async (list) => {
    const { service, acts } = await play(list, once, how);
    expect(service.log).toEqual(acts.map((act) => act.id));
    expect(acts.every((act) => act.state === 'sent')).toBe(true);
    const view = asItStands(stationView(), acts, Date.parse(SEEN_AT));
    expect(view.done.map((each) => each.stepNo)).toEqual(service.done);
    for (const [no, standing] of service.standing)
      expect(view.readings.filter((reading) => reading.stepNo === no && !reading.superseded).map(({ id, verdict }) => ({ id, verdict }))).toEqual([standing]);
  });

test('whatever the link does, the service ends with each act once and in order, and as the page showed it', async () => {
  await fc.assert(holds(true, drain), { numRuns: 500 });
});

test('with a partner at work meanwhile nothing is lost unsaid, nothing acts twice, and no reading replaces one it did not know', async () => {
  const withPartner = fc.array(fc.oneof({ weight: 4, arbitrary: moves }, { weight: 1, arbitrary: fc.constant<Move[]>([{ move: 'partner' }]) }), {
    maxLength: 6,
  });
  let refused = 0;
  await fc.assert(
    fc.asyncProperty(withPartner, async (lists) => {
      const { service, acts } = await play(lists.flat(), true, drain);
      const mine = service.log.filter((id) => !id.startsWith('partner'));
      expect(mine).toEqual(acts.filter((act) => act.state === 'sent').map((act) => act.id));
      expect(new Set(service.log).size).toBe(service.log.length);
      for (const act of acts) if (act.state === 'waiting') expect(heldBy(act, acts)).not.toBeNull();
      for (const act of acts) if (act.state === 'refused') expect(act.refusal?.code).toMatch(/step-out-of-order|reading-superseded|reading-off-target/);
      refused += acts.filter((act) => act.state === 'refused').length;
    }),
    { numRuns: 300 },
  );
  // Otherwise the partner was never in the way, and this proved nothing.
  expect(refused).toBeGreaterThan(50);
});

test('control: a service that forgets its keys is found out', async () => {
  expect((await fc.check(holds(false, drain), { numRuns: 500 })).failed).toBe(true);
});

test('control: a device that sends past a lost try is found out', async () => {
  expect((await fc.check(holds(true, careless), { numRuns: 500 })).failed).toBe(true);
});
