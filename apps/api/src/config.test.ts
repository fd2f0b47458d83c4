import { expect, test } from 'vitest';
import { readConfig } from './config.ts';

const url = 'postgresql://ashwater_app:x@127.0.0.1/ashwater';
const read = (more: Record<string, string> = {}) => readConfig({ DATABASE_APP_URL: url, ...more });

test('what is not set has a safe value: this machine only, plain cookies on plain http, no proxy believed', () => {
  expect(read()).toEqual({
    appUrl: url,
    host: '127.0.0.1',
    port: 4310,
    webHandler: undefined,
    setupCode: undefined,
    secureCookies: false,
    publicOrigin: undefined,
    trustProxy: false,
    logLevel: 'info',
    poolMax: 12,
  });
});

test('a setting left blank is one that is not set, never zero', () => {
  expect(read({ PORT: '', DATABASE_POOL_MAX: '', TRUST_PROXY: '', PUBLIC_ORIGIN: '', SETUP_CODE: '', LOG_LEVEL: '', HOST: '' })).toEqual(read());
  expect(() => readConfig({ DATABASE_APP_URL: '' })).toThrow(/DATABASE_APP_URL must name/);
  expect(() => readConfig({})).toThrow(/DATABASE_APP_URL must name/);
});

test.each([
  ['PORT', '70000'],
  ['PORT', '-1'],
  ['PORT', 'http'],
  ['PORT', '43.5'],
  ['DATABASE_POOL_MAX', '1'],
  ['DATABASE_POOL_MAX', '1000'],
  ['TRUST_PROXY', 'perhaps'],
  ['LOG_LEVEL', 'loud'],
  ['PUBLIC_ORIGIN', 'studio.example'],
])('%s=%s stops the start and is named', (name, value) => {
  expect(() => read({ [name]: value })).toThrow(new RegExp(name));
});

test('every fault is told at once', () => {
  expect(() => read({ PORT: 'x', LOG_LEVEL: 'y' })).toThrow(/PORT[\s\S]*LOG_LEVEL|LOG_LEVEL[\s\S]*PORT/);
});

test('cookies are Secure exactly where the public address is https', () => {
  expect(read({ PUBLIC_ORIGIN: 'https://studio.example' }).secureCookies).toBe(true);
  expect(read({ PUBLIC_ORIGIN: 'http://studio.example' }).secureCookies).toBe(false);
});

test('the public address is kept as the origin that browsers send: no path, no slash, no default port', () => {
  // RFC 6454, 6.2: an origin serialises as scheme, host and a port that is not the default
  for (const typed of ['https://studio.example', 'https://studio.example/', 'https://Studio.example:443/soap'])
    expect(read({ PUBLIC_ORIGIN: typed }).publicOrigin).toBe('https://studio.example');
  expect(read({ PUBLIC_ORIGIN: 'http://studio.example:8080/' }).publicOrigin).toBe('http://studio.example:8080');
});
