import { version } from '$app/env';
import { assets, immutable } from '$app/manifest';
import { self } from '$app/service-worker';
import { AWAY, answerNavigation, isStationPage } from './navigation.ts';

/*
 * Keeps one page, the one that works without network, and what it is built from. No other page is ever kept: they hold names
 * and the state of safety. It is registered for /station only, so that it never sees a page of the staff.
 */
const CACHE = `ashwater-away-${version}`;
const FILES = [...immutable.map(({ path }) => path), ...assets.map(({ path }) => path)].filter((path) => !path.endsWith('.map'));

async function fill(): Promise<void> {
  const cache = await caches.open(CACHE);
  await cache.addAll([AWAY, ...FILES].map((path) => new Request(path.startsWith('/') ? path : `/${path}`, { cache: 'no-cache' })));
}

async function dropOlder(): Promise<void> {
  for (const name of await caches.keys()) if (name.startsWith('ashwater-away-') && name !== CACHE) await caches.delete(name);
  await self.clients.claim();
}

async function kept(request: Request): Promise<Response | undefined> {
  return (await caches.open(CACHE)).match(request, { ignoreSearch: true });
}

self.addEventListener('install', (event) => event.waitUntil(fill().then(() => self.skipWaiting())));
self.addEventListener('activate', (event) => event.waitUntil(dropOlder()));
self.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== self.location.origin) return;
  if (request.mode === 'navigate') {
    if (url.pathname === AWAY) event.respondWith(kept(request).then((page) => page ?? fetch(request)));
    else if (isStationPage(url.pathname)) event.respondWith(answerNavigation(fetch(request), new URL(AWAY, url).href));
    return;
  }
  // Files named by their content never change; nothing else is answered from here.
  if (url.pathname.startsWith('/_app/immutable/') || FILES.includes(url.pathname)) event.respondWith(kept(request).then((file) => file ?? fetch(request)));
});
