import { randomUUID } from 'node:crypto';
import type { CardOut, CardStep } from '@ashwater/contracts';
import { expect } from 'vitest';
import { takeSeat } from './classroom.ts';
import type { Bench, SeatAt } from './classroom.ts';
import { newcomer, newIssue, newStation, nextStep } from './station-model.ts';
import type { ModelSeat, StationModel } from './station-model.ts';
import type { Answer, Caller, TestStudio } from './test-studio.ts';

type Expected = boolean | { status: boolean; body: object };
/**
 * A request as sent: sending it again sends the same body with the same key. `judge` says whether it counts now, and makes it so in
 * the model; `then` follows one that counted. `counted` reads it from an answer where the status alone does not say.
 */
type Sent = {
  what: string;
  by: Caller;
  url: string;
  body: object;
  key: string;
  judge(): Expected | Promise<Expected>;
  then?: (() => Promise<void>) | undefined;
  counted?: ((answer: Answer) => boolean) | undefined;
  answer?: Answer;
};
export type Asked = Omit<Sent, 'key' | 'answer'>;
/** How often each kind of request counted and was refused, over all stations. */
export type Tally = Map<string, { accepted: number; refused: number }>;
export type Person = SeatAt & { model: ModelSeat; noDevice?: 'visitor' | 'added' };

type CardAt = { id: string; steps: readonly CardStep[]; next: CardStep | undefined; standingId: string | null };

/** One station as it is played at: the model beside the service, and every answer compared. */
export class Station {
  readonly model: StationModel;
  readonly people: Person[] = [];
  readonly sent: Sent[] = [];
  readonly readingIds: string[] = [];
  accepted = { reading: 0, check: 0 };
  /** Every issue of the card, the one in force last. */
  readonly cards: CardOut[];
  private replaced: CardAt | null = null;
  readonly studio: TestStudio;
  readonly home: Bench;
  readonly away: Bench;
  /** A seat in another class. */
  readonly stranger: SeatAt;
  private readonly tally: Tally;
  constructor(at: { studio: TestStudio; home: Bench; away: Bench; stranger: SeatAt; tally: Tally; nowMs: number }) {
    const { content } = at.home.card;
    this.studio = at.studio;
    this.home = at.home;
    this.away = at.away;
    this.stranger = at.stranger;
    this.tally = at.tally;
    this.cards = [at.home.card];
    this.model = newStation(
      content.steps,
      content.gear.map((item) => item.key),
      at.nowMs,
    );
  }
  get card(): CardOut {
    return this.cards.at(-1)!;
  }
  /** The card that a command names, as it stands: the one in force, or the one replaced last where it asks for an old one and there is one. */
  cardFor(command: { old: boolean }): CardAt {
    if (command.old && this.replaced) return this.replaced;
    const { steps, standing } = this.model;
    return { id: this.card.id, steps, next: nextStep(this.model), standingId: standing?.id ?? null };
  }
  replace(card: CardOut): void {
    this.replaced = this.cardFor({ old: false });
    this.cards.push(card);
    newIssue(this.model, card.content.steps);
  }
  async sit(own = false): Promise<void> {
    const seat = await takeSeat(this.studio, this.home, this.nameOfNext(), own ? this.studio.as.instructor.cookie : '');
    this.admit(seat, { own });
  }
  nameOfNext = (): string => `P${this.people.length}`;
  admit(seat: SeatAt, more: { own?: boolean; away?: boolean; noDevice?: 'visitor' | 'added' } = {}): void {
    const { noDevice, ...state } = more;
    const model = newcomer(state);
    this.people.push({ ...seat, model, ...(noDevice ? { noDevice } : {}) });
    this.model.seats.push(model);
  }

  count(kind: string, accepted: boolean): void {
    const row = this.tally.get(kind) ?? { accepted: 0, refused: 0 };
    row[accepted ? 'accepted' : 'refused'] += 1;
    this.tally.set(kind, row);
  }
  private played = (): string => this.sent.map((each) => `${each.what} ${each.answer?.statusCode}`).join('\n');

  async send(request: Sent, kind: string): Promise<void> {
    const earlier = request.answer;
    if (earlier?.statusCode === 200) {
      // A repeat of what was done: the same answer, whatever the gate says now; the rows are counted at the end.
      const answer = await request.by.post(request.url, request.body, request.key);
      expect([answer.statusCode, answer.json()], `repeat of ${request.what}`).toEqual([200, earlier.json()]);
      this.count(kind, true);
      return;
    }
    const expected = await request.judge();
    const answer = await request.by.post(request.url, request.body, request.key);
    request.answer = answer;
    if (!this.sent.includes(request)) this.sent.push(request);
    expect(answer.statusCode, answer.body).toBeLessThan(500);
    const status = typeof expected === 'boolean' ? expected : expected.status;
    expect(answer.statusCode === 200, `${request.what}: ${answer.body}\n${this.played()}`).toBe(status);
    if (typeof expected === 'object') expect(answer.json(), `${request.what}\n${this.played()}`).toMatchObject(expected.body);
    this.count(kind, status && (request.counted?.(answer) ?? true));
    if (status) await request.then?.();
  }
  /** `wrong`: by somebody whose work it is not. Staff's work is sent by a seat, a seat's by staff; the room's by a stranger to it. */
  request(kind: string, asked: Asked, wrong = false): Promise<void> {
    const { assistant } = this.studio.as;
    const others = kind === 'stop' ? this.stranger.by : this.people.some((person) => person.by === asked.by) ? assistant : this.people[0]!.by;
    const sent = wrong ? { ...asked, what: `${asked.what}, wrongly`, by: others, judge: () => false, then: undefined } : asked;
    return this.send({ ...sent, key: randomUUID() }, kind);
  }
}
