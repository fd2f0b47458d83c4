import type { Problem } from '@ashwater/contracts';
import { createHash } from 'node:crypto';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { dump } from '../../testing/dump.ts';
import { expectRefused } from '../../testing/refusals.ts';
import { PASSWORD, signInOn, studioOn, testStudio } from '../../testing/test-studio.ts';
import type { TestStudio } from '../../testing/test-studio.ts';

let studio: TestStudio;
beforeAll(async () => {
  studio = await testStudio();
});
afterAll(() => studio.close());
let networks = 0;
const freshNetwork = () => `198.51.100.${(networks += 1)}`;
const signIn = (payload: object, remoteAddress = freshNetwork(), headers: Record<string, string> = {}) =>
  studio.app.inject({ method: 'POST', url: '/api/sign-in', payload, remoteAddress, headers });

test('wrong password, unknown address and a disabled person get the same answer to the letter', async () => {
  await studio.admin.query(
    `INSERT INTO account SELECT studio_id, $1, 'gone@example.org', 'Gone', 'assistant', password_hash, now(), now() FROM account WHERE email = 'owner@example.org'`,
    [newId()],
  );
  const bodies: string[] = [];
  for (const payload of [
    { email: 'owner@example.org', password: 'not the password at all' },
    { email: 'nobody@example.org', password: PASSWORD },
    { email: 'gone@example.org', password: PASSWORD },
  ]) {
    const answer = await signIn(payload);
    expect([answer.statusCode, answer.headers['set-cookie']]).toEqual([401, undefined]);
    bodies.push(JSON.stringify({ ...answer.json<Problem>(), instance: '' }));
  }
  expect(new Set(bodies).size).toBe(1);
  expect(bodies[0]).toContain('sign-in-refused');
});

test('an unknown address takes about as long as a wrong password: both pay for a hash', async () => {
  const time = async (email: string) => {
    const times: number[] = [];
    for (let n = 0; n < 7; n += 1) {
      const start = performance.now();
      await signIn({ email, password: 'not the password at all' });
      times.push(performance.now() - start);
    }
    return times.sort((x, y) => x - y)[3]!;
  };
  await time('warm@example.org');
  const [unknown, known] = [await time('nobody@example.org'), await time('owner@example.org')];
  // Without the hash an unknown address answers ten times faster; machines that share a core vary by less than three.
  expect(unknown / known).toBeGreaterThan(0.33);
});

test('the eleventh try for one address within a minute is refused; a colleague behind the same network gets in', async () => {
  const network = freshNetwork();
  const tries = [];
  for (let n = 0; n < 11; n += 1)
    tries.push((await signIn({ email: n % 2 ? 'Owner@example.org' : 'owner@example.org', password: 'wrong wrong wrong' }, network)).statusCode);
  expect(tries).toEqual([...Array.from({ length: 10 }, () => 401), 429]);
  const right = await signIn({ email: 'owner@example.org', password: PASSWORD }, network);
  expect([right.statusCode, right.json<Problem>().code, right.headers['set-cookie']]).toEqual([429, 'too-many-tries', undefined]);
  expect((await signIn({ email: 'manager@example.org', password: PASSWORD }, network)).statusCode).toBe(200);
  // and whoever tries from elsewhere cannot lock the owner out of their own network
  expect((await signIn({ email: 'owner@example.org', password: PASSWORD })).statusCode).toBe(200);
  // a header that anybody can write does not make a new network
  expect(
    (await signIn({ email: 'owner@example.org', password: PASSWORD }, network, { 'x-forwarded-for': '203.0.113.5', forwarded: 'for=203.0.113.5' })).statusCode,
  ).toBe(429);
});

test('a class of staff behind one network all get in within a minute', async () => {
  const network = freshNetwork();
  const statuses = await Promise.all(
    Array.from({ length: 30 }, (_, n) =>
      signIn({ email: `${['owner', 'manager', 'instructor', 'assistant'][n % 4]!}@example.org`, password: PASSWORD }, network),
    ),
  );
  expect(statuses.map((answer) => answer.statusCode)).toEqual(Array.from({ length: 30 }, () => 200));
});

test('new people’s passwords: fifteen characters are enough, fourteen are not, guesses are refused, at the field', async () => {
  const add = (password: string, email = `${newId()}@example.org`) =>
    studio.as.owner.post('/api/people', { id: newId(), name: 'Eve', email, role: 'assistant', password });
  await expectRefused(studio.admin, () => add('abcdefghijklmn'), { status: 422, code: 'input-refused', pointer: '/password', says: /at least 15/ });
  await expectRefused(studio.admin, () => add('passwordpassword'), { status: 422, code: 'input-refused', pointer: '/password', says: /guessed/ });
  await expectRefused(studio.admin, () => add('x'.repeat(201)), { status: 422, code: 'input-refused', pointer: '/password' });
  expect((await add('abcdefghijklmno', 'eve@example.org')).statusCode).toBe(200);
  expect((await signIn({ email: 'EVE@example.org', password: 'abcdefghijklmno' })).statusCode).toBe(200);
  const { rows } = await studio.admin.query<{ hash: string }>('SELECT password_hash AS hash FROM account');
  for (const { hash } of rows) expect(hash).toMatch(/^\$argon2id\$v=19\$m=19456,t=2,p=1\$/);
});

test('a password leaves no trace but its argon2 hash: not in the audit, not in a kept answer, not as a quick hash', async () => {
  const person = { id: newId(), name: 'Ida', email: 'ida@example.org', role: 'assistant', password: 'violet harbour spoon' };
  const key = newId();
  expect((await studio.as.owner.post('/api/people', person, key)).statusCode).toBe(200);
  const rows = await dump(studio.admin);
  const quick = (text: string) => createHash('sha256').update(text).digest('hex');
  for (const trace of [person.password, quick(person.password), quick(JSON.stringify(['POST', '/api/people', person]))])
    expect(rows.filter((row) => row.includes(trace))).toEqual([]);
  // it has no part in telling one request from another, so that nothing stored depends on it
  expect((await studio.as.owner.post('/api/people', { ...person, password: 'another violet harbour' }, key)).json()).toEqual({ id: person.id });
  expect((await studio.as.owner.post('/api/people', { ...person, name: 'Ina' }, key)).json()).toMatchObject({ code: 'idempotency-mismatch' });
});

test('one address in two studios: the password decides, and where it is the same the studio’s short name does', async () => {
  const other = await studioOn(studio.app, { studioName: 'Second House', domain: 'second.example' });
  await studio.admin.query(`UPDATE account SET email = 'owner@example.org' WHERE email = 'owner@second.example'`);
  const asked = await signIn({ email: 'owner@example.org', password: PASSWORD });
  expect(asked.json()).toMatchObject({ status: 409, code: 'studio-needed', errors: [{ pointer: '/studio' }] });
  const { rows } = await studio.admin.query<{ name: string }>('SELECT short_name AS name FROM studio WHERE id = $1', [other.studioId]);
  expect((await signIn({ email: 'owner@example.org', password: PASSWORD, studio: ` ${rows[0]!.name.toUpperCase()} ` })).json()).toMatchObject({
    studio: { id: other.studioId },
  });
  // who does not know the password is not told that there are two
  expect((await signIn({ email: 'owner@example.org', password: 'not the password at all' })).json()).toMatchObject({ code: 'sign-in-refused' });
  expect(await signInOn(studio.app, 'manager@second.example')).toContain(other.studioId);
});
