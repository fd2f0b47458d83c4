import type { CardOut, ClassOut, RecipeDraft } from '@ashwater/contracts';
import { newId } from '../ids.ts';
import { soundDraft } from './drafts.ts';
import { receive } from './stock-steps.ts';
import { callerOn } from './test-studio.ts';
import type { Answer, App, Caller, People } from './test-studio.ts';

type On = People & { app: App };
/** The answer's body; throws with it when the request was refused. */
export async function ok<T = Record<string, unknown>>(asked: Promise<Answer>): Promise<T> {
  const answer = await asked;
  if (answer.statusCode !== 200) throw new Error(`${answer.statusCode} ${answer.body}`);
  return answer.json<T>();
}

/** A draft written and published by the instructor. */
export async function publishedRecipe({ as }: On, draft: RecipeDraft = soundDraft()): Promise<{ recipeId: string; versionId: string }> {
  const [recipeId, versionId] = [newId(), newId()];
  await ok(as.instructor.post('/api/recipes', { id: recipeId, draft }));
  await ok(as.instructor.post(`/api/recipes/${recipeId}/versions`, { id: versionId, revision: 1 }));
  return { recipeId, versionId };
}

export type SetUp = { scaleStep: string; scaleCapacity: string; mouldName: string; mouldVolumeMl: string };
const BENCH: SetUp = { scaleStep: '1 g', scaleCapacity: '5000 g', mouldName: 'Loaf, nine bars', mouldVolumeMl: '1100' };
export type StationBody = SetUp & { id: string; stationId: string };
/** The body of a class of so many new stations; `setUp` changes one of them. */
export async function classBody(
  { as }: On,
  versionId: string,
  options: { title?: string; room?: string; stations?: number; lotId?: string | null; name?: string; setUp?: (n: number) => Partial<SetUp> } = {},
) {
  const stations: StationBody[] = [];
  for (let n = 1; n <= (options.stations ?? 1); n += 1) {
    const bench = { ...BENCH, ...options.setUp?.(n) };
    const stationId = newId();
    await ok(as.owner.post('/api/stations', { id: stationId, name: `${options.name ?? 'Station'} ${n} ${stationId.slice(-4)}`, ...bench }));
    stations.push({ id: newId(), stationId, ...bench });
  }
  return {
    id: newId(),
    title: options.title ?? 'Saturday beginners',
    startsAt: '2026-03-07T10:00:00Z',
    room: options.room ?? 'Back room',
    recipeVersionId: versionId,
    naohLotId: options.lotId ?? null,
    kohLotId: null,
    stations,
  };
}

export type Bench = { classId: string; classStationId: string; name: string; code: string; card: CardOut };
export type Classroom = { recipeId: string; versionId: string; classId: string; joinCode: string; lotId: string; containerIds: string[]; benches: Bench[] };
type Plan = Parameters<typeof classBody>[2] & { draft?: RecipeDraft; supplier?: string };

/** Recipe, version, lot, stations, class and its cards, each made through the API by those whose work it is. */
export async function classroom(studio: On, plan: Plan = {}): Promise<Classroom> {
  const recipe = await publishedRecipe(studio, plan.draft);
  const lot = await receive(studio.as.manager, [`${plan.name ?? 'Bottle'} ${newId().slice(-6)}`]);
  const body = await classBody(studio, recipe.versionId, { ...plan, lotId: lot.lotId });
  await ok(studio.as.instructor.post('/api/classes', body));
  const { cards } = await ok<{ cards: CardOut[] }>(studio.as.instructor.post(`/api/classes/${body.id}/publish`, {}));
  const made = await ok<ClassOut>(studio.as.instructor.get(`/api/classes/${body.id}`));
  const benches = made.stations.map((station) => ({
    classId: body.id,
    classStationId: station.id,
    name: station.name,
    code: station.joinCode,
    card: cards.find((card) => card.classStationId === station.id)!,
  }));
  return { ...recipe, ...lot, classId: body.id, joinCode: made.joinCode, benches };
}

export type SeatAt = { id: string; name: string; by: Caller; bench: Bench };
let seats = 0;
/** Takes a seat as a phone of its own would; `cookie` is what that browser already holds. */
export async function takeSeat({ app }: { app: App }, bench: Bench, name = 'Sam', cookie = ''): Promise<SeatAt> {
  const id = newId();
  seats += 1;
  const joined = await app.inject({
    method: 'POST',
    url: '/api/join',
    payload: { id, code: bench.code, name },
    headers: { cookie },
    remoteAddress: `10.0.${seats >> 8}.${seats & 255}`,
  });
  if (joined.statusCode !== 200) throw new Error(joined.body);
  return { id, name, by: callerOn(app, String(joined.headers['set-cookie']).split(';')[0]!), bench };
}

export const confirm = (seat: SeatAt, itemKey: string, key?: string) => seat.by.post('/api/gear/confirm', { id: newId(), itemKey }, key);
/** Confirms every item of the card's gear. */
export async function dress(seat: SeatAt): Promise<void> {
  for (const item of seat.bench.card.content.gear) await ok(confirm(seat, item.key));
}
export const countersign = (by: Caller, seat: { id: string }, key?: string) => by.post(`/api/seats/${seat.id}/countersign`, { id: newId() }, key);
export const lapse = (by: Caller, seat: { id: string }, reason = 'torn glove') => by.post(`/api/seats/${seat.id}/lapse`, { id: newId(), reason });
export async function signOff({ as }: People, seat: SeatAt): Promise<void> {
  await dress(seat);
  await ok(countersign(as.instructor, seat));
}
