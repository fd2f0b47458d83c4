import { expect, test } from 'vitest';
import { databaseFault } from './errors.ts';

test('an error of pg tells its SQLSTATE and constraint', () => {
  expect(databaseFault(Object.assign(new Error('duplicate key'), { code: '23505', constraint: 'station_name_key' }))).toEqual({
    sqlState: '23505',
    constraint: 'station_name_key',
  });
});

test('the same through Prisma: the adapter’s error lies two levels down, mapped or not', () => {
  const around = (cause: object) =>
    Object.assign(new Error('Invalid invocation'), {
      code: 'P2002',
      meta: { driverAdapterError: Object.assign(new Error('UniqueConstraintViolation'), { cause }) },
    });
  expect(databaseFault(around({ originalCode: '23505', kind: 'UniqueConstraintViolation', constraint: { index: 'station_name_key' } }))).toEqual({
    sqlState: '23505',
    constraint: 'station_name_key',
  });
  expect(databaseFault(around({ code: 'AW001', kind: 'postgres', message: 'history is append-only' }))).toEqual({ sqlState: 'AW001', constraint: undefined });
});

test('an error wrapped by ours is still found; a ring of causes ends', () => {
  expect(databaseFault(new Error('outer', { cause: new Error('inner', { cause: { code: '23514' } }) }))).toEqual({ sqlState: '23514', constraint: undefined });
  const ring: { cause?: unknown } = {};
  ring.cause = ring;
  expect(databaseFault(ring)).toBeUndefined();
});

test('Prisma’s own codes, Node’s codes and things that are no error are not SQLSTATEs', () => {
  // EPIPE and EPERM have five capitals like a SQLSTATE; every SQLSTATE of PostgreSQL (Appendix A) holds a digit.
  for (const code of ['P2002', 'P2025', 'EPIPE', 'EPERM', 'EBUSY', 'ECONNREFUSED', 'FST_ERR_VALIDATION', 23505, undefined])
    expect(databaseFault({ code }), String(code)).toBeUndefined();
  for (const odd of [undefined, null, 'boom', 7]) expect(databaseFault(odd)).toBeUndefined();
});
