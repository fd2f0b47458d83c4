import type { Me, Problem, StationView } from '@ashwater/contracts';
import type { Act } from './act.ts';
import { requestOf } from './act.ts';
import type { Answer } from './drain.ts';

const PATIENCE_MS = 8_000;

async function ask(path: string, init: RequestInit = {}): Promise<Response | null> {
  return fetch(path, { ...init, cache: 'no-store', signal: AbortSignal.timeout(PATIENCE_MS) }).catch(() => null);
}

/** Sends one act. Only a 4xx refuses it for good; a failing or busy service, or no seat, leaves it waiting. */
export async function send(act: Act): Promise<Answer> {
  const { path, body } = requestOf(act);
  const headers = { accept: 'application/json', 'content-type': 'application/json', 'idempotency-key': act.id };
  const response = await ask(path, { method: 'POST', headers, body: JSON.stringify(body) });
  if (response?.ok) return { kind: 'taken' };
  if (!response || response.status >= 500 || [401, 408, 429].includes(response.status)) return { kind: 'none' };
  const problem = (await response.json().catch(() => null)) as Partial<Problem> | null;
  // Something between us and the service answered, not the service.
  if (typeof problem?.code !== 'string') return { kind: 'none' };
  return { kind: 'refused', refusal: { code: problem.code, title: problem.title ?? '', detail: problem.detail ?? '' } };
}

/** Whose seat this device holds, and how far the service's clock is ahead; null without an answer. */
export async function whoseSeat(): Promise<{ seatId: string | null; aheadMs: number } | null> {
  const response = await ask('/api/me?as=seat', { headers: { accept: 'application/json' } });
  if (!response?.ok) return null;
  const me = (await response.json().catch(() => null)) as Me | null;
  if (!me) return null;
  const there = Date.parse(response.headers.get('date') ?? '');
  return { seatId: me.kind === 'seat' ? me.id : null, aheadMs: Number.isNaN(there) ? 0 : there - Date.now() };
}

export async function stationNow(): Promise<StationView | null> {
  const response = await ask('/api/station', { headers: { accept: 'application/json' } });
  return response?.ok ? ((await response.json()) as StationView) : null;
}
