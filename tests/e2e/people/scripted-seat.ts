import type { CardStep, StationView } from '@ashwater/contracts';
import { request } from '@playwright/test';
import type { APIRequestContext, APIResponse } from '@playwright/test';
import { DEMO_SIGN_INS } from '../../../apps/api/src/demo/sign-ins.ts';
import { newId } from '../../../apps/api/src/ids.ts';

/** What stands in the way for the moment: somebody else will clear it. */
const WAIT = ['room-stopped', 'gear-not-signed', 'gear-not-confirmed'];
/** Somebody else at the station was quicker: the next look at the page tells. */
const OVERTAKEN = ['already-exists', 'step-out-of-order', 'card-voided', 'second-reading-needed', 'reading-off-target', 'reading-superseded'];

/** A student's phone played by script over HTTP: joins by code, dresses, works through the card, waits where it must. */
export class ScriptedSeat {
  readonly name: string;
  /** Every refusal it met, by code: a test looks whether the right ones are among them. */
  readonly refusals: string[] = [];
  private readonly api: APIRequestContext;

  private constructor(name: string, api: APIRequestContext) {
    this.name = name;
    this.api = api;
  }

  static async join(service: string, code: string, name: string): Promise<ScriptedSeat> {
    const seat = new ScriptedSeat(name, await request.newContext({ baseURL: service }));
    await seat.must('/api/join', { id: newId(), code, name });
    return seat;
  }

  /** Somebody of the staff takes a seat as a student: the seat knows whose it is. */
  static async joinAsOwner(service: string, code: string): Promise<ScriptedSeat> {
    const { name, email, password } = DEMO_SIGN_INS.find(({ role }) => role === 'owner')!;
    const seat = new ScriptedSeat(name, await request.newContext({ baseURL: service }));
    await seat.must('/api/sign-in', { email, password });
    await seat.must('/api/join', { id: newId(), code, name });
    return seat;
  }

  async view(): Promise<StationView> {
    return (await (await this.api.get('/api/station')).json()) as StationView;
  }
  async leave(): Promise<void> {
    await this.must('/api/seat/sign-out', {});
  }
  /** Reads the scale for the caustic that the neighbour has weighed. */
  async readSecond(entered: string): Promise<void> {
    const waiting = (await this.view()).readings.find(({ second, superseded }) => second === 'needed' && !superseded);
    await this.must(`/api/readings/${waiting?.id}/check`, { id: newId(), entered });
  }
  /** Tries to finish the step that is next, and gives the code of the refusal. */
  async refusal(): Promise<string | undefined> {
    const { card, currentStepNo } = await this.view();
    const answer = await this.post(`/api/cards/${card.id}/steps/${currentStepNo ?? 1}/done`, {});
    return ((await answer.json()) as { code?: string }).code;
  }

  /** Confirms what this seat has not confirmed yet. */
  async dress(): Promise<void> {
    const { card, gear } = await this.view();
    for (const { key } of card.content.gear) if (!gear.confirmed.includes(key)) await this.try('/api/gear/confirm', { id: newId(), itemKey: key });
  }

  /**
   * Works until `done` says so. At the named step the reading is first given wrong by `offG` grams, and the instructor is waited for.
   * @throws Error when nothing went on for two minutes
   */
  async work(done: (view: StationView) => boolean, off?: { lineKey: string; offG: number }): Promise<void> {
    for (let idle = 0; ;) {
      const view = await this.view();
      if (done(view)) return;
      const moved = await this.act(view, off);
      idle = moved ? 0 : idle + 1;
      if (idle > 600) throw new Error(`${this.name} waited two minutes at step ${view.currentStepNo}: ${this.refusals.slice(-3).join(', ')}`);
      if (!moved) await new Promise((resolve) => setTimeout(resolve, 200));
    }
  }

  /** One thing at the station. @returns whether anything changed */
  private async act(view: StationView, off?: { lineKey: string; offG: number }): Promise<boolean> {
    const step = view.card.content.steps.find(({ no }) => no === view.currentStepNo);
    if (view.card.content.gear.some(({ key }) => !view.gear.confirmed.includes(key))) {
      await this.dress();
      return true;
    }
    if (!step) return false;
    if (step.kind === 'label')
      return this.try('/api/jars', { id: newId(), cardId: view.card.id, mass: String(Math.round(view.card.content.solutionMassMg / 2000)) });
    if ((step.kind === 'weigh' || step.kind === 'temperature') && !(await this.read(view, step, off))) return false;
    return this.try(`/api/cards/${view.card.id}/steps/${step.no}/done`, {});
  }

  private async read(view: StationView, step: CardStep, off?: { lineKey: string; offG: number }): Promise<boolean> {
    const standing = view.readings.filter((reading) => reading.stepNo === step.no && !reading.superseded).at(-1);
    if (standing?.verdict === 'within') return this.second(view, step, standing.id, standing.entered);
    // Off target: the instructor decides, and then the page shows what holds.
    if (standing && step.lineKey === off?.lineKey) return false;
    const good = step.kind === 'temperature' ? Math.floor((step.highC ?? 40) - 5) : (step.targetMg ?? 0) / 1000;
    const id = newId();
    const wrong = !standing && off !== undefined && step.lineKey === off.lineKey;
    const body = { id, stepNo: step.no, entered: String(wrong ? good + off.offG : good), supersedesId: standing?.id ?? null };
    if (!(await this.try(`/api/cards/${view.card.id}/readings`, body)) || wrong) return false;
    return this.second(view, step, id, body.entered);
  }

  /** Somebody at hand reads the scale once more where it is caustic. */
  private async second(view: StationView, step: CardStep, readingId: string, entered: string): Promise<boolean> {
    if (step.lineKey !== 'naoh' && step.lineKey !== 'koh') return true;
    await this.try(`/api/readings/${readingId}/check`, { id: newId(), entered, byName: `Helper of ${this.name}` });
    return true;
  }

  async post(path: string, data: object): Promise<APIResponse> {
    return this.api.post(path, { data, headers: { 'idempotency-key': newId() } });
  }
  private async try(path: string, data: object): Promise<boolean> {
    const answer = await this.post(path, data);
    if (answer.ok()) return true;
    const { code = String(answer.status()) } = (await answer.json()) as { code?: string };
    this.refusals.push(code);
    if (![...WAIT, ...OVERTAKEN].includes(code)) throw new Error(`${this.name}: ${path} ${await answer.text()}`);
    return false;
  }
  private async must(path: string, data: object): Promise<void> {
    const answer = await this.post(path, data);
    if (!answer.ok()) throw new Error(`${this.name}: ${path} ${await answer.text()}`);
  }
}
