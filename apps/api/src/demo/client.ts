import type { buildApp } from '../app.ts';
import { newId } from '../ids.ts';

type App = Awaited<ReturnType<typeof buildApp>>;
export type Json = Record<string, unknown>;

/** Asks the service as one browser would: keeps its cookie, makes an Idempotency-Key for every write, and stops at a refusal. */
export function clientOf(app: App) {
  let cookie = '';
  const ask = async <T = Json>(method: 'GET' | 'POST' | 'PUT', url: string, payload?: object): Promise<T> => {
    const answer = await app.inject({ method, url, headers: { cookie, 'idempotency-key': newId() }, ...(payload ? { payload } : {}) });
    if (answer.statusCode >= 400) throw new Error(`demo: ${method} ${url} was refused: ${answer.body}`);
    const set = answer.headers['set-cookie'];
    if (set) cookie = String(set).split(';')[0]!;
    return answer.json<T>();
  };
  return {
    get: <T = Json>(url: string) => ask<T>('GET', url),
    post: <T = Json>(url: string, payload: object = {}) => ask<T>('POST', url, payload),
  };
}
export type Client = ReturnType<typeof clientOf>;
