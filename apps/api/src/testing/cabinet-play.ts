import fc from 'fast-check';
import { newId } from '../ids.ts';
import { handOut, receive } from './stock-steps.ts';
import type { Answer, TestStudio } from './test-studio.ts';

/*
 * Anything that people do at the cabinet, in any order, with a second book kept beside the service's: what each accepted act must have moved.
 * Which container, lot, hand-out, request or ledger line an act is about is drawn as a number and taken from those there are.
 */
export const KINDS = [
  'receive',
  'hand out',
  'take back',
  'transfer',
  'uptake',
  'count',
  'act',
  'dispose',
  'write off',
  'found',
  'correct',
  'reverse',
  'decide',
] as const;
export type Act = { kind: (typeof KINDS)[number]; which: number; other: number; massG: number; yes: boolean };
export const acts: fc.Arbitrary<Act[]> = fc.array(
  fc.record({
    kind: fc.constantFrom(...KINDS, 'hand out', 'take back', 'decide'),
    which: fc.nat(99),
    other: fc.nat(99),
    massG: fc.oneof(fc.integer({ min: 0, max: 40 }), fc.integer({ min: 0, max: 1300 })),
    yes: fc.boolean(),
  }),
  { minLength: 20, maxLength: 45 },
);

/** As a studio has it that did not choose another limit. */
const TWO_PEOPLE_OVER_MG = 1_000_000;

type Bottle = { id: string; lotId: string };
type Out = { id: string; containerId: string; lotId: string; massMg: number };
type Moved = { lotId: string; from: string; to: string; massMg: number };
type Asked = { id: string; approved: () => void };

/** The second book, and what there is to act on. */
export class Cabinet {
  readonly book = new Map<string, number>();
  readonly bottles: Bottle[] = [];
  readonly asked: Asked[] = [];
  outs: Out[] = [];
  private readonly studio: TestStudio;
  private readonly classId: string;
  private lots = 0;

  constructor(studio: TestStudio, classId: string) {
    this.studio = studio;
    this.classId = classId;
  }

  private move({ lotId, from, to, massMg }: Moved): void {
    if (massMg === 0) return;
    for (const [place, mg] of [[from, -massMg] as const, [to, massMg] as const])
      this.book.set(`${place} ${lotId}`, (this.book.get(`${place} ${lotId}`) ?? 0) + mg);
  }

  private bottle = (number: number): Bottle => this.bottles[number % this.bottles.length]!;

  async receive(): Promise<void> {
    this.lots += 1;
    const { lotId, containerIds } = await receive(this.studio.as.manager, [`P${this.lots}-1`, `P${this.lots}-2`]);
    for (const id of containerIds) {
      this.bottles.push({ id, lotId });
      this.move({ lotId, from: 'supplier', to: `container:${id}`, massMg: 1_000_000 });
    }
  }

  /** Asks for a movement; it is in the second book once it is approved: at once, or some time later when much has moved. */
  private async ask({ yes }: Act, path: string, body: object, moved: Moved): Promise<Answer> {
    const id = newId();
    const answer = await this.studio.as.manager.post(`/api/stock-requests/${path}`, { id, reason: 'played at random', ...body });
    if (answer.statusCode === 200) this.asked.push({ id, approved: () => this.move(moved) });
    return answer.statusCode === 200 && yes ? this.decide(this.asked.at(-1)!, yes) : answer;
  }

  private async handOut(id: string, lotId: string, massMg: number): Promise<Answer> {
    const out = { id: newId(), containerId: id, lotId, massMg };
    const answer = await handOut(this.studio.as.manager, id, this.classId, String(massMg / 1000), out.id);
    if (answer.statusCode !== 200) return answer;
    const made = () => {
      this.outs.push(out);
      this.move({ lotId, from: `container:${id}`, to: `class:${this.classId}`, massMg });
    };
    // Above the studio's limit it waits for a second person.
    if (massMg > TWO_PEOPLE_OVER_MG) this.asked.push({ id: out.id, approved: made });
    else made();
    return answer;
  }

  private async takeBack(out: Out, massG: number): Promise<Answer> {
    const answer = await this.studio.as.manager.post(`/api/checkouts/${out.id}/return`, { mass: String(massG), scaleStep: '1' });
    if (answer.statusCode !== 200) return answer;
    this.outs = this.outs.filter((each) => each !== out);
    // A gram or two more than went out is what weighing can be wrong by: it counts as nothing used.
    const backMg = Math.min(massG * 1000, out.massMg);
    const from = `class:${this.classId}`;
    this.move({ lotId: out.lotId, from, to: `container:${out.containerId}`, massMg: backMg });
    this.move({ lotId: out.lotId, from, to: `product:${this.classId}`, massMg: out.massMg - backMg });
    return answer;
  }

  /** Takes everything back with nothing used: it must always be possible. */
  async allBack(): Promise<Answer[]> {
    const answers: Answer[] = [];
    for (const out of this.outs) answers.push(await this.takeBack(out, 0));
    return answers;
  }

  /** Does one act; undefined where there is nothing that it could be about. */
  async play(act: Act): Promise<Answer | undefined> {
    const by = this.studio.as.manager;
    const { id, lotId } = this.bottle(act.which);
    const place = `container:${id}`;
    const massMg = act.massG * 1000;
    const mass = String(act.massG);
    switch (act.kind) {
      case 'receive':
        await this.receive();
        return undefined;
      case 'hand out':
        return this.handOut(id, lotId, massMg);
      case 'take back': {
        const out = this.outs[act.which % Math.max(1, this.outs.length)];
        return out && this.takeBack(out, act.massG);
      }
      case 'transfer': {
        const alike = this.bottles.filter((each) => each.lotId === lotId && each.id !== id);
        const to = act.yes ? alike[act.other % alike.length]! : this.bottle(act.other);
        const answer = await by.post(`/api/containers/${id}/transfers`, { id: newId(), toContainerId: to.id, newContainer: null, mass, scaleStep: '1' });
        if (answer.statusCode === 200) this.move({ lotId, from: place, to: `container:${to.id}`, massMg });
        return answer;
      }
      case 'uptake': {
        const heldMg = this.book.get(`${place} ${lotId}`) ?? 0;
        const gross = String((heldMg + 250_000) / 1000 + (act.massG % 40));
        const answer = await by.post(`/api/containers/${id}/uptakes`, { id: newId(), gross, mass: '', scaleStep: '1', reason: 'lid found open' });
        if (answer.statusCode === 200) this.move({ lotId, from: 'air', to: place, massMg: (act.massG % 40) * 1000 });
        return answer;
      }
      case 'count':
        return by.post('/api/counts', {
          id: newId(),
          scaleStep: '1',
          lines: [{ containerId: id, gross: String(act.massG + 250), first: String(act.massG + 250) }],
        });
      case 'act': {
        const kind = (['opened', 'closed', 'moved', 'emptied', 'rinsed', 'disposed'] as const)[act.other % 12 < 6 ? act.other % 6 : act.other % 3]!;
        return by.post(`/api/containers/${id}/acts`, { id: newId(), kind, remark: 'Shelf 2' });
      }
      case 'dispose':
        return this.ask(act, 'disposal', { containerId: id, mass }, { lotId, from: place, to: 'waste', massMg });
      case 'write off':
        return this.ask(act, 'write-off', { containerId: id, mass, direction: 'missing' }, { lotId, from: place, to: 'unaccounted', massMg });
      case 'found':
        return this.ask(act, 'write-off', { containerId: id, mass, direction: 'found' }, { lotId, from: 'unaccounted', to: place, massMg });
      case 'correct':
        return this.correct(act, lotId, id);
      case 'reverse':
        return this.reverse(act);
      case 'decide': {
        const request = this.asked[act.which % Math.max(1, this.asked.length)];
        return request && this.decide(request, act.yes);
      }
    }
  }

  private async decide(request: Asked, yes: boolean): Promise<Answer> {
    const answer = await this.studio.as.owner.post(`/api/stock-requests/${request.id}/decide`, { outcome: yes ? 'approved' : 'refused', remark: '' });
    if (answer.statusCode !== 200) return answer;
    this.asked.splice(this.asked.indexOf(request), 1);
    if (yes) request.approved();
    return answer;
  }

  private correct(act: Act, lotId: string, containerId: string): Promise<Answer> {
    const places = [
      { ref: { sort: 'container', id: containerId }, place: `container:${containerId}` },
      { ref: { sort: 'class', id: this.classId }, place: `class:${this.classId}` },
      { ref: { sort: 'product', id: this.classId }, place: `product:${this.classId}` },
      { ref: { sort: 'waste', id: null }, place: 'waste' },
    ];
    // What is in hands is what a correction is most likely to be wrong about, and must be refused; a little out of the cabinet can mostly be made.
    const inHands = act.which % 3 === 0;
    const from = inHands ? 1 : act.which % 3 === 1 ? 0 : act.other % 4;
    const to = places[(from + 1 + (Math.floor(act.other / 4) % 3)) % 4]!;
    const massG = inHands ? act.massG : act.massG % 41;
    const moved = { lotId, from: places[from]!.place, to: to.place, massMg: massG * 1000 };
    return this.ask(act, 'correction', { lotId, from: places[from]!.ref, to: to.ref, mass: String(massG) }, moved);
  }

  private async reverse(act: Act): Promise<Answer> {
    type Line = { seq: string; lot_id: string; from_place: string; to_place: string; mass_mg: string };
    const { rows } = await this.studio.admin.query<Line>(
      'SELECT seq, lot_id, from_place, to_place, mass_mg FROM ledger_line WHERE studio_id = $1 ORDER BY seq DESC LIMIT 20',
      [this.studio.studioId],
    );
    const line = rows[act.which % rows.length]!;
    return this.ask(act, 'reversal', { seq: Number(line.seq) }, { lotId: line.lot_id, from: line.to_place, to: line.from_place, massMg: Number(line.mass_mg) });
  }
}
