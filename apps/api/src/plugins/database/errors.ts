/** What a database error means, whichever door it came through (pg, or Prisma's adapter around it). */
export type DatabaseFault = { sqlState: string; constraint: string | undefined };

type Chain = { code?: unknown; constraint?: unknown; originalCode?: unknown; cause?: unknown; meta?: unknown; driverAdapterError?: unknown; index?: unknown };

// Five signs with a digit among them: EPIPE is Node's, P2002 is Prisma's.
const SQLSTATE = /^(?!P\d{4}$)(?=.*\d)[0-9A-Z]{5}$/;

// Prisma keeps the SQLSTATE in meta.driverAdapterError.cause: `originalCode` where it mapped the error, `code` where it did not.
export function databaseFault(error: unknown, depth = 0): DatabaseFault | undefined {
  if (typeof error !== 'object' || error === null || depth > 5) return undefined;
  const link = error as Chain;
  for (const inner of [link.meta, link.driverAdapterError, link.cause]) {
    const found = databaseFault(inner, depth + 1);
    if (found) return found;
  }
  const state = [link.originalCode, link.code].find((code) => typeof code === 'string' && SQLSTATE.test(code));
  if (typeof state !== 'string') return undefined;
  const constraint = typeof link.constraint === 'object' && link.constraint !== null ? (link.constraint as Chain).index : link.constraint;
  return { sqlState: state, constraint: typeof constraint === 'string' ? constraint : undefined };
}

export const UNIQUE_VIOLATION = '23505';
export const CHECK_VIOLATION = '23514';
export const APPEND_ONLY = 'AW001';
