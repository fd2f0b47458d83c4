/** Which of the two files of the lettering holds a sign; together they print the Latin languages of Europe. */
export type Face = 'latin' | 'latin-ext';
export type Run = { face: Face; text: string };

type Range = readonly [from: number, to?: number];
/** What the files hold, read from their character tables; printable.test.ts compares it with the files. */
export const GLYPHS: Record<Face, readonly Range[]> = {
  // prettier-ignore
  latin: [
    [0x20, 0x7e], [0xa0, 0xac], [0xae, 0xb4], [0xb6, 0xff], [0x102], [0x131], [0x152, 0x153], [0x2c6], [0x2da], [0x2dc], [0x2013, 0x2014],
    [0x2018, 0x201a], [0x201c, 0x201e], [0x2022], [0x2026], [0x2039, 0x203a], [0x20ac], [0x2122], [0x2212],
  ],
  // prettier-ignore
  'latin-ext': [
    [0x100, 0x101], [0x103, 0x107], [0x10a, 0x113], [0x116, 0x11b], [0x11e, 0x123], [0x126, 0x127], [0x12a, 0x12b], [0x12e, 0x130], [0x132, 0x133],
    [0x136, 0x137], [0x139, 0x13e], [0x141, 0x148], [0x150, 0x151], [0x154, 0x155], [0x158, 0x15b], [0x15e, 0x165], [0x16a, 0x16b], [0x16e, 0x17e],
    [0x218, 0x21b], [0x237], [0x1e80, 0x1e85], [0x1e9e], [0x1ef2, 0x1ef3],
  ],
};

/** Which file holds each sign; looked up for every letter of every print. */
const FACES = new Map<string, Face>();
for (const face of ['latin-ext', 'latin'] as const)
  for (const [from, to = from] of GLYPHS[face]) for (let code = from; code <= to; code += 1) FACES.set(String.fromCodePoint(code), face);
const faceOf = (sign: string): Face | undefined => FACES.get(sign);

const NO_BREAK = '\u00a0';
/** Signs the lettering lacks, as what says the same. A thin space between thousands becomes one that does not break. */
const INSTEAD: Record<string, string> = {
  '\u202f': NO_BREAK,
  '\u2009': NO_BREAK,
  '\u2011': '-',
  '\u00ad': '',
  '\u200b': '',
  '\t': ' ',
  '\n': ' ',
  '\r': ' ',
  '≤': `at most${NO_BREAK}`,
  '≥': `at least${NO_BREAK}`,
  '→': 'to',
  µ: 'micro',
  μ: 'micro',
  Ω: 'Ohm',
  '✓': 'yes',
};

/** One sign as the lettering can print it: itself, its words, its letter without the accent, or a question mark. */
function printableSign(sign: string): string {
  if (faceOf(sign)) return sign;
  const instead = INSTEAD[sign];
  if (instead !== undefined) return instead;
  const plain = [...sign.normalize('NFKD').replace(/\p{M}/gu, '')];
  return plain.length > 0 && plain.every(faceOf) ? plain.join('') : '?';
}

/** Text with nothing in it that would print as an empty box. */
export const printable = (text: string): string => [...text.normalize('NFC')].map(printableSign).join('');

/** Printable text cut where the file of the lettering changes. */
export function runsOf(text: string): Run[] {
  const runs: Run[] = [];
  for (const sign of text) {
    // A blank stays in the file it stands beside: it is in both.
    const face = sign === ' ' || sign === NO_BREAK ? (runs.at(-1)?.face ?? 'latin') : (faceOf(sign) ?? 'latin');
    const last = runs.at(-1);
    if (last?.face === face) last.text += sign;
    else runs.push({ face, text: sign });
  }
  return runs;
}
