import { expect, test } from 'vitest';
import { isHttpError } from '@sveltejs/kit';
import { Created } from '@ashwater/contracts';
import { read, tryRead, write } from './api.ts';
import type { Caller } from './api.ts';

const ID = '0198d000-0000-7000-8000-000000000001';
const PROBLEM = { type: '/problems/room-stopped', code: 'room-stopped', title: 'The room is stopped', status: 409, detail: 'Wait.', instance: 'urn:x' };

function caller(answer: () => Response | Promise<Response>) {
  const requests: { path: string; init: RequestInit }[] = [];
  const fetch = async (path: string, init: RequestInit) => {
    requests.push({ path, init });
    return answer();
  };
  return { event: { fetch, cookies: { set: () => undefined } } as unknown as Caller, requests };
}
const json = (body: unknown, status = 200) => Response.json(body, { status });

test('a write sends the id of the form as its Idempotency-Key', async () => {
  const { event, requests } = caller(() => json({ id: ID }));
  expect(await write(event, '/api/stations', { id: ID }, Created, { key: ID })).toEqual({ ok: true, value: { id: ID } });
  expect(requests[0]?.init).toMatchObject({ method: 'POST', headers: { 'idempotency-key': ID, 'content-type': 'application/json' } });
});

test('a write without a key names none', async () => {
  const { event, requests } = caller(() => json({ id: ID }));
  await write(event, '/api/notes/anonymous', {}, Created);
  expect(Object.keys(requests[0]?.init.headers ?? {})).not.toContain('idempotency-key');
});

test('a refusal is certain: nothing was written', async () => {
  const { event } = caller(() => json(PROBLEM, 409));
  expect(await write(event, '/api/x', {}, Created)).toEqual({ ok: false, problem: PROBLEM, unsure: false });
});

test.each([
  ['no answer', () => Promise.reject(new TypeError('fetch failed'))],
  ['a failing server', () => json({ oops: true }, 502)],
])('after %s nobody knows whether it was written', async (_, answer) => {
  const { event } = caller(answer);
  expect(await write(event, '/api/x', {}, Created)).toMatchObject({ ok: false, unsure: true });
});

test('a refused read becomes an error page with the code and the sentence of the API', async () => {
  const { event } = caller(() => json(PROBLEM, 409));
  const thrown: unknown = await read(event, '/api/x', Created).catch((error: unknown) => error);
  expect(isHttpError(thrown) && thrown.body).toMatchObject({ message: 'The room is stopped', code: 'room-stopped', detail: 'Wait.' });
});

test('an answer of another shape than the contract is a fault, not data', async () => {
  const { event } = caller(() => json({ id: 'no uuid' }));
  await expect(tryRead(event, '/api/x', Created)).rejects.toThrow('uuid');
});
