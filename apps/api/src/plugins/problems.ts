import fp from 'fastify-plugin';
import type { FastifyError, FastifyReply, FastifyRequest } from 'fastify';
import { hasZodFastifySchemaValidationErrors, ResponseSerializationError } from 'fastify-type-provider-zod';
import { Problem } from '@ashwater/contracts';
import type { FieldFault } from '@ashwater/contracts';
import { CATALOGUE } from '../problems/catalogue.ts';
import type { ProblemCode } from '../problems/catalogue.ts';
import { DomainProblem } from '../problems/domain-problem.ts';
import { APPEND_ONLY, CHECK_VIOLATION, databaseFault, UNIQUE_VIOLATION } from './database/errors.ts';

/** For every route's schema: what a refusal looks like. */
export const problemResponses = {
  '4xx': { description: 'Refused; see `code`', content: { 'application/problem+json': { schema: Problem } } },
} as const;

export function problemDocument(code: ProblemCode, detail: string, requestId: string, errors: FieldFault[] = []): Problem {
  const [status, title] = CATALOGUE[code];
  return {
    type: `/problems/${code}`,
    code,
    title,
    status,
    detail,
    instance: `urn:ashwater:request:${requestId}`,
    ...(errors.length > 0 ? { errors } : {}),
  };
}

function send(request: FastifyRequest, reply: FastifyReply, code: ProblemCode, detail: string, errors: FieldFault[] = []) {
  return reply
    .code(CATALOGUE[code][0])
    .header('cache-control', 'no-store')
    .type('application/problem+json')
    .send(problemDocument(code, detail, request.id, errors));
}

const FAILED = 'Nothing was saved by this request. Try again; if it happens again, tell whoever runs the service the number in "instance".';

function answer(error: FastifyError, request: FastifyRequest, reply: FastifyReply) {
  if (error instanceof DomainProblem) return send(request, reply, error.code, error.message, error.errors);
  if (hasZodFastifySchemaValidationErrors(error)) {
    const errors = error.validation.map((fault) => ({ pointer: fault.instancePath, detail: fault.message ?? 'Not readable.' }));
    const code = error.validationContext === 'body' ? 'input-refused' : 'request-malformed';
    return send(request, reply, code, errors[0]?.detail ?? 'The request was refused.', errors);
  }
  const fault = databaseFault(error);
  if (fault?.sqlState === UNIQUE_VIOLATION) {
    request.log.info({ constraint: fault.constraint }, 'already exists');
    return send(request, reply, 'already-exists', 'There is one with the same name or number already. Choose another.');
  }
  if (fault && [CHECK_VIOLATION, APPEND_ONLY].includes(fault.sqlState)) request.log.error({ fault }, 'the database refused what the rules let through');
  if (error.statusCode === 429) return send(request, reply, 'too-many-tries', 'Too many tries. Wait a minute, then try again.');
  if (error.statusCode !== undefined && error.statusCode >= 400 && error.statusCode < 500 && !(error instanceof ResponseSerializationError))
    return send(request, reply, 'request-malformed', 'The request could not be read: check its form and its size.');
  request.log.error({ err: error }, 'request failed');
  if (error.statusCode === 503) return send(request, reply, 'service-busy', 'The service is busy. Nothing was saved; try again in a moment.');
  return send(request, reply, 'service-failed', FAILED);
}

export default fp(
  async (app) => {
    app.setErrorHandler(answer);
    app.setNotFoundHandler((request, reply) => send(request, reply, 'not-found', 'There is nothing at this address.'));
  },
  { name: 'problems' },
);
