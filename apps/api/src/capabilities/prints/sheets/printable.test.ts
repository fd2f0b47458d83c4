import { createRequire } from 'node:module';
import { expect, test } from 'vitest';
import { FONT_FILES } from './pen.ts';
import { GLYPHS, printable, runsOf } from './printable.ts';

// The reader of fonts that pdfkit itself uses.
const ofPdfkit = createRequire(createRequire(import.meta.url).resolve('pdfkit'));
const fontkit = ofPdfkit('fontkit') as { openSync(file: string): { hasGlyphForCodePoint(code: number): boolean } };

test('every sign said to be printable is in the files, plain and bold', () => {
  for (const face of ['latin', 'latin-ext'] as const)
    for (const file of Object.values(FONT_FILES[face])) {
      const font = fontkit.openSync(file);
      const codes = GLYPHS[face].flatMap(([from, to = from]) => Array.from({ length: to - from + 1 }, (_, i) => from + i));
      expect(codes.length).toBeGreaterThan(100);
      expect(codes.filter((code) => !font.hasGlyphForCodePoint(code)).map((code) => `${face} U+${code.toString(16)}`)).toEqual([]);
    }
});

test('signs the files lack become words, letters without accent, or a question mark', () => {
  expect(printable('≤ 5 µg → ok ✓')).toBe('at most\u00a0 5 microg to ok yes');
  expect(printable('1\u202f141\u00a0g')).toBe('1\u00a0141\u00a0g');
  expect(printable('Ṣabūn 石')).toBe('Sabūn ?');
});

test('Polish, Czech, Turkish and German names are printed as they are written', () => {
  for (const name of ['Łucja Wąsik', 'Žofie Dvořáková', 'İpek Şahin', 'Jürgen Weiß']) expect(printable(name)).toBe(name);
  expect(runsOf('Łucja W')).toEqual([
    { face: 'latin-ext', text: 'Ł' },
    { face: 'latin', text: 'ucja W' },
  ]);
});
