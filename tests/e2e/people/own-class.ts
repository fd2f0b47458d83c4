import type { ClassOut, Recipes } from '@ashwater/contracts';
import { request } from '@playwright/test';
import { DEMO_SIGN_INS } from '../../../apps/api/src/demo/sign-ins.ts';
import { newId } from '../../../apps/api/src/ids.ts';

export type OwnClass = {
  code: string;
  mark: string;
  classId: string;
  post(path: string, body?: object): Promise<void>;
  get<T>(path: string): Promise<T>;
  another(stationCount: number): Promise<OwnClass>;
};

/** A class with stations of its own, one if not told otherwise, made by the demo's instructor, who stays at hand. No other test's steps are in its way. */
export async function ownClass(service: string, stationCount = 1): Promise<OwnClass> {
  const api = await request.newContext({ baseURL: service });
  const post = async (path: string, data: object = {}): Promise<void> => {
    const answer = await api.post(path, { data, headers: { 'idempotency-key': newId() } });
    if (!answer.ok()) throw new Error(`POST ${path}: ${answer.status()} ${await answer.text()}`);
  };
  const get = async <T>(path: string): Promise<T> => (await (await api.get(path)).json()) as T;
  const { email, password } = DEMO_SIGN_INS.find(({ role }) => role === 'instructor')!;
  await post('/api/sign-in', { email, password });
  return makeClass({ post, get }, stationCount);
}

/** Without signing in again: the service takes only so many sign-ins a minute. */
async function makeClass(api: Pick<OwnClass, 'post' | 'get'>, stationCount: number): Promise<OwnClass> {
  const { post, get } = api;
  const { recipes } = await get<Recipes>('/api/recipes');
  const [version] = recipes.find(({ title }) => title.startsWith('First bar'))!.versions;
  const setUp = { scaleStep: '1 g', scaleCapacity: '5000 g', mouldName: 'Loaf', mouldVolumeMl: '1100' };
  const stationIds = Array.from({ length: stationCount }, newId);
  const mark = stationIds[0]!.slice(-6);
  for (const [index, id] of stationIds.entries()) await post('/api/stations', { id, name: `Bench ${mark}${index === 0 ? '' : ` ${index + 1}`}`, ...setUp });
  const classId = newId();
  const startsAt = new Date().toISOString();
  const made = { id: classId, title: `Away ${mark}`, startsAt, room: 'Yard', recipeVersionId: version!.id, naohLotId: null, kohLotId: null };
  await post('/api/classes', { ...made, stations: stationIds.map((stationId) => ({ id: newId(), stationId, ...setUp })) });
  await post(`/api/classes/${classId}/publish`);
  const { stations } = await get<ClassOut>(`/api/classes/${classId}`);
  return { code: stations[0]!.joinCode, mark, classId, ...api, another: (count) => makeClass(api, count) };
}
