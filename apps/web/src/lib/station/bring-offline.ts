const QUIET_MS = 3_000;

/** Brings what works without network when the page has long been usable: it must not take a slow link from the card itself. */
export async function bringOffline() {
  await new Promise((resolve) => setTimeout(resolve, QUIET_MS));
  const part = await import('../offline/LinkDown.svelte');
  // Only on https and localhost do browsers have one. A failed registration is tried again with the next page.
  navigator.serviceWorker?.register('/service-worker.js', { type: 'module', scope: '/station' }).catch(() => undefined);
  return part.default;
}
