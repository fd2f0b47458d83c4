import { redirect } from '@sveltejs/kit';
import type { RequestEvent } from '@sveltejs/kit';
import type { Handle, HandleFetch, HandleServerError } from '@sveltejs/kit/hooks';
import { Me } from '@ashwater/contracts';
import { brings } from '#lib/server/cookies.ts';
import { LEFT } from '#lib/server/station.ts';

const within = (path: string, root: string): boolean => path === root || path.startsWith(`${root}/`);
const staffOnly = (path: string): boolean => within(path, '/studio') || within(path, '/class');
const seatOnly = (path: string): boolean => within(path, '/station');
/** Pages of a note without a name: nobody is asked who it is, so that no log has a line about it at that moment. */
const nameless = (path: string): boolean => within(path, '/note') || within(path, '/note-status');

const SEAT = 'ashwater_seat';

/** Asks the API who a cookie belongs to; asks nothing where no such cookie came. Null when the API does not answer. */
async function whoIs(event: RequestEvent, as: 'staff' | 'seat'): Promise<Me | null> {
  if (!brings(event, as === 'staff' ? 'ashwater_session' : SEAT)) return { kind: 'nobody' };
  const response = await event.fetch(`/api/me?as=${as}`).catch(() => null);
  return response?.ok ? Me.parse(await response.json()) : null;
}

/** Courtesy gates: the API checks every request again. */
export const handle: Handle = async ({ event, resolve }) => {
  const path = event.url.pathname;
  event.locals.staff = null;
  event.locals.seat = null;
  if (event.route.id === null) return resolve(event);
  const [staff, seat] = await Promise.all([
    seatOnly(path) || nameless(path) ? { kind: 'nobody' as const } : whoIs(event, 'staff'),
    staffOnly(path) || nameless(path) ? { kind: 'nobody' as const } : whoIs(event, 'seat'),
  ]);
  if (staff?.kind === 'staff') event.locals.staff = staff;
  if (seat?.kind === 'seat') event.locals.seat = seat;
  // An API that does not answer is no reason to send anybody away: the page's own load will say what is wrong.
  if (staffOnly(path) && staff?.kind === 'nobody') redirect(303, `/sign-in?next=${encodeURIComponent(path + event.url.search)}`);
  // Whoever had a seat is told that it is over, also when staff ended it. A page that is open already and asks for its data again had one,
  // even when the answer that ended it took the cookie away a moment before.
  if (seatOnly(path) && seat?.kind === 'nobody') redirect(303, brings(event, SEAT) || event.isDataRequest ? LEFT : '/join');
  const response = await resolve(event);
  // Pages hold names and safety state: nothing is kept by a shared phone or a proxy.
  response.headers.set('cache-control', 'no-store');
  response.headers.set('referrer-policy', 'same-origin');
  response.headers.set('x-content-type-options', 'nosniff');
  return response;
};

/** Sends `/api/...` to the API's own address, with the browser's cookies and what the proxy knew of the browser. */
export const handleFetch: HandleFetch = async ({ event, request, fetch }) => {
  const url = new URL(request.url);
  if (url.origin !== event.url.origin || !url.pathname.startsWith('/api/')) return fetch(request);
  const target = new URL(url.pathname + url.search, process.env.API_ORIGIN ?? url.origin);
  const forwarded = new Request(target, request);
  const anonymous = nameless(event.url.pathname);
  const cookie = event.request.headers.get('cookie');
  if (cookie) forwarded.headers.set('cookie', cookie);
  if (anonymous) forwarded.headers.delete('cookie');
  forwarded.headers.set('x-forwarded-for', event.getClientAddress());
  forwarded.headers.set('x-forwarded-host', event.url.host);
  forwarded.headers.set('x-forwarded-proto', event.url.protocol.replace(':', ''));
  // Kit has refused cross-site form posts already (its own origin check).
  forwarded.headers.set('sec-fetch-site', 'same-origin');
  return fetch(forwarded);
};

export const handleError: HandleServerError = ({ kind, error, event }) => {
  if (kind !== 'unknown') return;
  console.error(`${event.request.method} ${event.url.pathname}`, error);
  return { status: 500, message: 'The page failed' };
};
