import { draftPointer } from '@ashwater/contracts';
import type { FieldFault } from '@ashwater/contracts';
import type { FormulationProblem } from '@ashwater/formulation';
import type { ProblemCode } from './catalogue.ts';

/** What rules and services throw. Knows nothing of HTTP: the catalogue gives status and title. */
export class DomainProblem extends Error {
  readonly code: ProblemCode;
  readonly errors: FieldFault[];

  constructor(code: ProblemCode, detail: string, errors: FieldFault[] = []) {
    super(detail);
    this.name = 'DomainProblem';
    this.code = code;
    this.errors = errors;
  }
}

/** One fault of one field. */
export function inputRefused(pointer: string, detail: string): DomainProblem {
  return new DomainProblem('input-refused', detail, [{ pointer, detail }]);
}

/** The formulation package's problems with a recipe as a refusal; `prefix` is where the draft stands in the request body. */
export function formulationRefused(problems: FormulationProblem[], prefix = ''): DomainProblem {
  const errors = problems.map((p) => ({ pointer: prefix + draftPointer(p.pointer), detail: p.detail, code: p.code }));
  return new DomainProblem('input-refused', errors[0]?.detail ?? 'The recipe was refused.', errors);
}

export const notFound = (what: string): DomainProblem => new DomainProblem('not-found', `${what} was not found in this studio.`);
