/** The page that works without network. */
export const AWAY = '/station-away';
const PATIENCE_MS = 4_000;
/** A proxy that answers for a service which is not there. */
const GATEWAY_FAULTS = new Set([502, 503, 504]);

export const isStationPage = (path: string): boolean => path === '/station' || path.startsWith('/station/');

/**
 * The network's answer to a page load; a redirect to `away` where there is none, none within four seconds, or only a proxy's
 * excuse. A redirect and not the page itself: the address says which page this is, and the page's script goes by it.
 */
export async function answerNavigation(network: Promise<Response>, away: string, patienceMs = PATIENCE_MS): Promise<Response> {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const late = new Promise<null>((resolve) => (timer = setTimeout(() => resolve(null), patienceMs)));
  const answer = await Promise.race([network.catch(() => null), late]);
  clearTimeout(timer);
  return answer && !GATEWAY_FAULTS.has(answer.status) ? answer : Response.redirect(away, 303);
}
