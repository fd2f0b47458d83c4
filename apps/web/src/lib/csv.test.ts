import { expect, test } from 'vitest';
import { csv } from './csv.ts';

// RFC 4180, section 2, rules 1 to 7: the examples "aaa,bbb,ccc CRLF", and aaa,"b CRLF bb",ccc and "aaa","b""bb","ccc".
test('RFC 4180: records end in CRLF; commas, line breaks and quotes are quoted', () => {
  expect(
    csv([
      ['aaa', 'bbb', 'ccc'],
      ['zzz', 'yyy', 'xxx'],
    ]),
  ).toBe('aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n');
  expect(csv([['aaa', 'b\r\nbb', 'ccc']])).toBe('aaa,"b\r\nbb",ccc\r\n');
  expect(csv([['aaa', 'b"bb', 'c,c']])).toBe('aaa,"b""bb","c,c"\r\n');
});

// OWASP ASVS 5.0, requirement 1.2.10: = + - @ tab and NUL as the first character are escaped with a single quote.
test.each(['=1+1', '+1', '-1', '@SUM(A1)', '\tx', '\0x'])('ASVS 1.2.10: %j gets an apostrophe', (text) => {
  expect(csv([[text]])).toBe(`'${text}\r\n`);
});

// CR is in OWASP's page on CSV injection, not in ASVS.
test('a text that begins with CR gets an apostrophe and quotes', () => {
  expect(csv([['\r=1+1']])).toBe(`"'\r=1+1"\r\n`);
});

test('a formula in a quoted cell is caught too', () => {
  expect(csv([['=HYPERLINK("http://x.example","a,b")']])).toBe(`"'=HYPERLINK(""http://x.example"",""a,b"")"\r\n`);
});

test('numbers stay numbers, below zero too; signs inside a text are left alone', () => {
  expect(csv([[-12.5, 0, 1e3, 'A-1', 'a=b']])).toBe('-12.5,0,1000,A-1,a=b\r\n');
});
