import { DomainProblem } from '../../problems/domain-problem.ts';
import { expect, test } from 'vitest';
import { checkPassword, hashPassword, verifyNobody, verifyPassword } from './passwords.ts';

const refusal = (password: string) => {
  try {
    checkPassword(password, '/password');
    return 'taken';
  } catch (error) {
    return error instanceof DomainProblem ? error.errors : error;
  }
};

test('NIST SP 800-63B-4, 3.1.1.2: fifteen characters are enough, fourteen are not; characters are code points', () => {
  expect(refusal('abcdefghijklmn')).toEqual([{ pointer: '/password', detail: expect.stringContaining('at least 15') }]);
  expect(refusal('abcdefghijklmno')).toBe('taken');
  expect(refusal('🐟🦀🐙🦑🐠🦐🐡🐬🐳🦈🐚🪼🦞🐋')).not.toBe('taken');
  expect(refusal('🐟🦀🐙🦑🐠🦐🐡🐬🐳🦈🐚🪼🦞🐋🦭')).toBe('taken');
});

test('no rule of composition: spaces, one case, no digit, long', () => {
  for (const good of ['four quiet green kettles', 'ALL CAPITALS WITH NO DIGIT', 'пять тихих чайников', 'x9'.repeat(20) + 'yz', 'a'.repeat(60) + 'bcd'])
    expect(refusal(good), good).toBe('taken');
});

test('what everybody would try is refused in any case of letters', () => {
  for (const weak of [
    'passwordpassword',
    'PasswordPassword',
    '123456789012345',
    'Correct Horse Battery Staple',
    'aaaaaaaaaaaaaaaaaaaa',
    'abababababababab',
    'SodiumHydroxide',
  ])
    expect(refusal(weak), weak).toEqual([{ pointer: '/password', detail: expect.stringContaining('guessed') }]);
});

test('OWASP Password Storage Cheat Sheet: argon2id with m = 19456 KiB, t = 2, p = 1, a new salt each time', async () => {
  const [one, other] = [await hashPassword('four quiet green kettles'), await hashPassword('four quiet green kettles')];
  // PHC string format: $argon2id$v=19$m=..,t=..,p=..$salt$hash
  const form = /^\$argon2id\$v=19\$m=19456,t=2,p=1\$([A-Za-z0-9+/]{22})\$[A-Za-z0-9+/]{43}$/;
  expect(one).toMatch(form);
  expect(form.exec(one)![1]).not.toBe(form.exec(other)![1]);
});

test('the right password opens, and only it: no cut at any length, same letters in either Unicode form', async () => {
  const long = 'k'.repeat(199);
  const stored = await hashPassword(`${long}é`);
  expect(await verifyPassword(stored, `${long}é`)).toBe(true);
  expect(await verifyPassword(stored, `${long}e\u0301`)).toBe(true);
  expect(await verifyPassword(stored, `${long}e`)).toBe(false);
  expect(await verifyPassword(stored, long)).toBe(false);
  expect(await verifyPassword(stored, '')).toBe(false);
});

test('nobody’s password is never right, not even the one it is checked against', async () => {
  expect(await verifyNobody('nobody has this password')).toBe(false);
});
