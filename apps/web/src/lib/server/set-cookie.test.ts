import { expect, test } from 'vitest';
import type { Cookies } from '@sveltejs/kit';
import { copySetCookies } from './set-cookie.ts';

type Set = { name: string; value: string; options: Parameters<Cookies['set']>[2] };

function copied(...lines: string[]): Set[] {
  const sets: Set[] = [];
  const response = new Response(null, { headers: lines.map((line): [string, string] => ['set-cookie', line]) });
  const cookies: Pick<Cookies, 'set'> = { set: (name, value, options) => void sets.push({ name, value, options }) };
  copySetCookies(response, cookies as Cookies);
  return sets;
}

// Examples of RFC 6265, 3.1.
test('keeps Path, Secure and HttpOnly', () => {
  expect(copied('SID=31d4d96e407aad42; Path=/; Secure; HttpOnly')).toMatchObject([
    { name: 'SID', value: '31d4d96e407aad42', options: { path: '/', secure: true, httpOnly: true } },
  ]);
});

test('copies several, each with its own attributes', () => {
  const [first, second] = copied('SID=31d4d96e407aad42; Path=/; Secure; HttpOnly', 'lang=en-US; Path=/; Domain=example.com');
  expect(first).toMatchObject({ name: 'SID', options: { secure: true } });
  expect(second).toMatchObject({ name: 'lang', value: 'en-US', options: { domain: 'example.com', secure: false, httpOnly: false } });
});

test('a deletion stays one: the date of RFC 6265 is in the past', () => {
  expect(copied('lang=; Expires=Sun, 06 Nov 1994 08:49:37 GMT')).toMatchObject([{ value: '', options: { expires: new Date('1994-11-06T08:49:37Z') } }]);
});

test('a value is handed on sign by sign, "=" and "%" included', () => {
  const [cookie] = copied('t=a=b%20c; Max-Age=60; SameSite=Strict');
  expect(cookie).toMatchObject({ value: 'a=b%20c', options: { maxAge: 60, sameSite: 'strict' } });
  expect(cookie?.options?.encode?.('a=b%20c')).toBe('a=b%20c');
});
