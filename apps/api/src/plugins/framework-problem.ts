import type { FastifyError, FastifyReply, FastifyRequest } from 'fastify';
import { problemDocument } from './problems.ts';

/** Addresses that cannot be decoded never reach the error handler; they get the same kind of answer. */
export function frameworkProblem(_error: FastifyError, request: FastifyRequest, reply: FastifyReply): void {
  void reply
    .code(400)
    .type('application/problem+json')
    .send(JSON.stringify(problemDocument('request-malformed', 'The address could not be read.', request.id)));
}
