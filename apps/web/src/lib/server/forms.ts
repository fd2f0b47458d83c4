import { fail } from '@sveltejs/kit';
import type { ActionFailure } from '@sveltejs/kit';
import type { Problem } from '@ashwater/contracts';
import type { FormState } from '../forms/form-state.ts';
import { newId } from '../id.ts';

const NEVER_SENT_BACK = new Set(['password', 'id']);

/** One field as text; a missing one is blank, never null. */
export function text(data: FormData, name: string): string {
  const value = data.get(name);
  return typeof value === 'string' ? value : '';
}

/** The form's hidden id: the id of the thing it makes, and the Idempotency-Key. A fresh one where none came. */
export function formId(data: FormData): string {
  return text(data, 'id') || newId();
}

/** Everything typed, to be shown again. Passwords never travel back. */
export function typedValues(data: FormData): Record<string, string> {
  const values: Record<string, string> = {};
  for (const [name, value] of data) {
    if (typeof value === 'string' && !NEVER_SENT_BACK.has(name)) values[name] = value;
  }
  return values;
}

type Refused = { ok: false; problem: Pick<Problem, 'code' | 'title' | 'detail' | 'status' | 'errors'>; unsure: boolean };

/**
 * A refused write as a form failure: faults beside their fields, typed values kept. After a refusal the form gets a new
 * id (its content will change); after an uncertain answer it keeps the old one, so that a second try cannot act twice.
 */
export function refuse(answer: Refused, data: FormData): ActionFailure<FormState> {
  const { problem } = answer;
  const errors: Record<string, string> = {};
  for (const fault of problem.errors ?? []) errors[fault.pointer.replace(/^\//, '')] ??= fault.detail;
  return fail(problem.status, {
    id: answer.unsure ? formId(data) : newId(),
    values: typedValues(data),
    errors,
    problem: { code: problem.code, title: problem.title, detail: problem.detail },
  });
}

/** A refusal the web itself makes, before the API is asked. */
export function refuseField(data: FormData, name: string, detail: string): ActionFailure<FormState> {
  const problem = { code: 'input-refused', title: 'Something in the form needs another look', detail, status: 422, errors: [{ pointer: `/${name}`, detail }] };
  return refuse({ ok: false, problem, unsure: false }, data);
}
