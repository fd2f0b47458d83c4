import { error } from '@sveltejs/kit';
import type { RequestEvent } from '@sveltejs/kit';
import { Problem } from '@ashwater/contracts';
import { copySetCookies } from './set-cookie.ts';

export type Written<T> = { ok: true; value: T } | { ok: false; problem: Problem; unsure: boolean };
export type Caller = Pick<RequestEvent, 'fetch' | 'cookies'>;
/** A contract schema, by the one thing needed of it. */
type Schema<T> = { parse: (value: unknown) => T };

const UNREACHABLE: Problem = {
  type: 'about:blank',
  code: 'service-unreachable',
  title: 'The service cannot be reached',
  status: 503,
  detail: 'We do not know whether this was saved. Send it again: it will not be saved twice.',
  instance: '',
};

async function readProblem(response: Response): Promise<Problem> {
  const parsed = Problem.safeParse(await response.json().catch(() => null));
  if (parsed.success) return parsed.data;
  return { ...UNREACHABLE, code: 'service-failed', title: 'The service failed', status: response.status };
}

/** Throws Kit's error for the nearest error page: the problem's title, with its code and detail beside it. */
export function showProblem(problem: Problem): never {
  error(problem.status, problem.title, { code: problem.code, detail: problem.detail });
}

/** GET, parsed by a contract schema. Every refusal becomes an error page. */
export async function read<T>(event: Caller, path: `/api/${string}`, schema: Schema<T>): Promise<T> {
  const answer = await tryRead(event, path, schema);
  return answer.ok ? answer.value : showProblem(answer.problem);
}

/** GET for a page that says something useful about a refusal itself, such as an unknown code. */
export async function tryRead<T>(event: Caller, path: `/api/${string}`, schema: Schema<T>): Promise<Written<T>> {
  const response = await event.fetch(path, { headers: { accept: 'application/json' } }).catch(() => null);
  if (response === null) return { ok: false, problem: UNREACHABLE, unsure: true };
  if (!response.ok) return { ok: false, problem: await readProblem(response), unsure: false };
  return { ok: true, value: schema.parse(await response.json()) };
}

export type WriteOptions = { method?: 'POST' | 'PUT'; key?: string | null };

/**
 * POST or PUT. `key` becomes the Idempotency-Key: give the form's hidden `id`, so that a form sent twice acts once.
 * `unsure` says that the write may have happened (no answer, or a failing server): the same id must be sent again.
 */
export async function write<T>(
  event: Caller,
  path: `/api/${string}`,
  body: unknown,
  schema: Schema<T>,
  { method = 'POST', key = null }: WriteOptions = {},
): Promise<Written<T>> {
  const headers: Record<string, string> = { accept: 'application/json', 'content-type': 'application/json' };
  if (key) headers['idempotency-key'] = key;
  const response = await event.fetch(path, { method, headers, body: JSON.stringify(body) }).catch(() => null);
  if (response === null) return { ok: false, problem: UNREACHABLE, unsure: true };
  copySetCookies(response, event.cookies);
  if (!response.ok) return { ok: false, problem: await readProblem(response), unsure: response.status >= 500 };
  const text = await response.text();
  return { ok: true, value: schema.parse(text === '' ? {} : JSON.parse(text)) };
}
