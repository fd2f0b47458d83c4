import { afterEach, expect, test, vi } from 'vitest';
import { send } from './link.ts';
import { actOf, done } from './testing.ts';

const act = actOf(1, done(2));
const problem = (status: number, code: string) => Response.json({ code, title: 'T', detail: 'D' }, { status });
const answering = (answer: () => Response | Promise<Response>) =>
  vi.stubGlobal(
    'fetch',
    vi.fn(async () => answer()),
  );
afterEach(() => vi.unstubAllGlobals());

test('the id goes along as the key of the request', async () => {
  answering(() => Response.json({}));
  expect(await send(act)).toEqual({ kind: 'taken' });
  const [path, init] = vi.mocked(fetch).mock.calls[0]!;
  expect(path).toBe('/api/cards/card-1/steps/2/done');
  expect(init).toMatchObject({ method: 'POST', body: '{}', headers: { 'idempotency-key': 'id-1' } });
});

test.each([409, 404, 422])('a problem of the service with %i is a refusal, kept in its words', async (status) => {
  answering(() => problem(status, 'card-voided'));
  expect(await send(act)).toEqual({ kind: 'refused', refusal: { code: 'card-voided', title: 'T', detail: 'D' } });
});

test.each([401, 408, 429, 500, 503])('%i says nothing about the act: it waits', async (status) => {
  answering(() => problem(status, 'seat-needed'));
  expect(await send(act)).toEqual({ kind: 'none' });
});

test('no answer, or a page of something in between, leaves the act waiting', async () => {
  answering(() => Promise.reject(new TypeError('failed')));
  expect(await send(act)).toEqual({ kind: 'none' });
  answering(() => new Response('<h1>Hotel network: sign in</h1>', { status: 403 }));
  expect(await send(act)).toEqual({ kind: 'none' });
});
