import { expect, test, vi } from 'vitest';
import { isRedirect } from '@sveltejs/kit';
import type { RequestEvent } from '@sveltejs/kit';
import { handle, handleFetch } from './hooks.server.ts';

const ORIGIN = 'http://studio.example';
type Answer = (path: string) => Response;

function eventAt(path: string, cookies: Record<string, string>, answer: Answer = () => Response.json({ kind: 'nobody' }), isDataRequest = false) {
  const asked: string[] = [];
  const event = {
    url: new URL(path, ORIGIN),
    route: { id: path },
    locals: {},
    isDataRequest,
    request: new Request(ORIGIN + path, {
      headers: {
        cookie: Object.entries(cookies)
          .map(([name, value]) => `${name}=${value}`)
          .join('; '),
      },
    }),
    cookies: { getAll: () => Object.entries(cookies).map(([name, value]) => ({ name, value })) },
    getClientAddress: () => '192.0.2.7',
    fetch: async (asking: string) => {
      asked.push(asking);
      return answer(asking);
    },
  } as unknown as RequestEvent;
  return { event, asked };
}
async function visit(path: string, cookies: Record<string, string>, answer?: Answer, isDataRequest?: boolean) {
  const { event, asked } = eventAt(path, cookies, answer, isDataRequest);
  const outcome: unknown = await Promise.resolve(handle({ event, resolve: async () => new Response('page') })).catch((thrown: unknown) => thrown);
  return { asked, to: isRedirect(outcome) ? outcome.location : null, page: outcome instanceof Response ? outcome : null };
}
const BOTH = { ashwater_session: 's', '__Host-ashwater_seat': 't' };

test('a staff page without a session leads to sign-in and back', async () => {
  expect((await visit('/studio/notes', {})).to).toBe('/sign-in?next=%2Fstudio%2Fnotes');
  expect((await visit('/class/1', { ashwater_session: 'old' })).to).toBe('/sign-in?next=%2Fclass%2F1');
});

test('a station page without a seat leads to joining; whoever had one is told that it is over', async () => {
  expect((await visit('/station/step/3', {})).to).toBe('/join');
  expect((await visit('/station/finish', { '__Host-ashwater_seat': 'signed-out' })).to).toBe('/join?left');
  expect((await visit('/station/finish', {}, undefined, true)).to, 'an open page that asks again').toBe('/join?left');
  expect((await visit('/stationery', {})).to).toBeNull();
});

test('an API that does not answer sends nobody away', async () => {
  const { to, page } = await visit('/station', BOTH, () => new Response('', { status: 503 }));
  expect(to).toBeNull();
  expect(page?.headers.get('cache-control')).toBe('no-store');
});

test('pages of a note without a name ask nobody who they are', async () => {
  expect((await visit('/note/KM4DT7', BOTH)).asked).toEqual([]);
  expect((await visit('/note-status', BOTH)).asked).toEqual([]);
  expect((await visit('/join', BOTH)).asked).toEqual(['/api/me?as=staff', '/api/me?as=seat']);
});

async function forwarded(page: string, url: string): Promise<Request> {
  vi.stubEnv('API_ORIGIN', 'http://127.0.0.1:4999');
  const { event } = eventAt(page, BOTH);
  let sent: Request | undefined;
  const fetch = async (input: RequestInfo | URL) => {
    sent = new Request(input);
    return new Response('{}');
  };
  await handleFetch({ event, request: new Request(url, { method: 'POST', body: '{}', headers: { cookie: 'ashwater_seat=leak' } }), fetch });
  vi.unstubAllEnvs();
  if (!sent) throw new Error('nothing was sent');
  return sent;
}

test('an API call goes to the address of the API with the cookies of the browser', async () => {
  const sent = await forwarded('/station', `${ORIGIN}/api/gear/confirm?x=1`);
  expect(sent.url).toBe('http://127.0.0.1:4999/api/gear/confirm?x=1');
  expect(sent.headers.get('cookie')).toBe('ashwater_session=s; __Host-ashwater_seat=t');
  expect(sent.headers.get('x-forwarded-for')).toBe('192.0.2.7');
});

test('a note without a name carries no cookie at all', async () => {
  expect((await forwarded('/note/KM4DT7', `${ORIGIN}/api/notes/anonymous`)).headers.get('cookie')).toBeNull();
});

test('cookies never go to another host', async () => {
  const sent = await forwarded('/station', 'http://elsewhere.example/api/x');
  expect(sent.url).toBe('http://elsewhere.example/api/x');
  expect(sent.headers.get('cookie')).not.toContain('session');
});
