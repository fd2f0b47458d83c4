import { expect, test } from 'vitest';
import type { Certificate } from './certificate.ts';
import { judgeCertificate } from './certificate.ts';
import { codesOf, valueOf } from './testing.ts';

const OLIVE: Certificate = { fatKey: 'olive', valueMgKohPerG: 190, expandedUncertainty: 1 };

const questionsOf = (certificate: Certificate) => valueOf(judgeCertificate(certificate)).questions.map((each) => each.code);

test('inside the published range (Codex 184 to 196): no question, and the interval of the lot', () => {
  expect(valueOf(judgeCertificate(OLIVE))).toEqual({
    verdict: 'inside',
    lowMgKohPerG: 189,
    highMgKohPerG: 191,
    publishedLowMgKohPerG: 184,
    publishedHighMgKohPerG: 196,
    questions: [],
    words: '190 ± 1 mg/g lies inside the published range of Olive oil (184 to 196 mg/g).',
  });
});

test.each([
  [184, []],
  [196, []],
  [183.99, ['outside-range']],
  [196.01, ['outside-range']],
  [300, ['outside-range']],
])('%d mg/g for olive oil: %j', (valueMgKohPerG, questions) => {
  expect(questionsOf({ ...OLIVE, valueMgKohPerG })).toEqual(questions);
});

test('outside is a question with its figures, not a refusal', () => {
  const judged = valueOf(judgeCertificate({ ...OLIVE, valueMgKohPerG: 198.5 }));
  expect(judged.verdict).toBe('question');
  expect(judged.words).toBe(
    '198.5 mg/g is 2.5 above the published range of Olive oil (184 to 196 mg/g). Ask the supplier whether the certificate belongs to this fat and this lot.',
  );
});

test('135.4 fits olive oil as milligrams of NaOH: 135.4 * 56.105 / 39.997 = 189.9 (IUPAC atomic weights)', () => {
  expect(valueOf(judgeCertificate({ ...OLIVE, valueMgKohPerG: 135.4 })).words).toContain('As milligrams of sodium hydroxide it would be 189.9');
});

test('19 looks like a lost digit of 190', () => {
  expect(valueOf(judgeCertificate({ ...OLIVE, valueMgKohPerG: 19 })).words).toContain('Ten times it (190) would fit');
});

test.each([
  [0, ['no-uncertainty']],
  [0.1, []],
  [6, []],
  [6.1, ['wider-than-range']],
])('an expanded uncertainty of %d for a range 12 wide: %j', (expandedUncertainty, questions) => {
  expect(questionsOf({ ...OLIVE, expandedUncertainty })).toEqual(questions);
});

test.each([
  ['2026-03-31', '2026-03-31', []],
  ['2024-03-31', '2026-03-31', []],
  ['2024-03-30', '2026-03-31', ['old']],
  ['2026-04-01', '2026-03-31', ['dated-ahead']],
  ['1999-01-01', undefined, []],
] as const)('dated %s, judged on %s: %j', (date, asOf, questions) => {
  expect(questionsOf({ ...OLIVE, date, ...(asOf ? { asOf } : {}) })).toEqual(questions);
});

test('unknown fats, days that are none and numbers that are no saponification value are refused', () => {
  expect(codesOf(judgeCertificate({ fatKey: 'engine_oil', valueMgKohPerG: NaN, expandedUncertainty: -1, date: '2026-02-30', asOf: 'today' }))).toEqual([
    'fat-unknown /fatKey',
    'value-out-of-range /valueMgKohPerG',
    'value-out-of-range /expandedUncertainty',
    'value-out-of-range /date',
    'value-out-of-range /asOf',
  ]);
  expect(codesOf(judgeCertificate({ ...OLIVE, expandedUncertainty: 190 }))).toEqual(['value-out-of-range /expandedUncertainty']);
  expect(codesOf(judgeCertificate({ ...OLIVE, valueMgKohPerG: 558 }))).toEqual(['value-out-of-range /valueMgKohPerG']);
});

test('below the range says by how much, and the ends of the range are inside', () => {
  expect(valueOf(judgeCertificate({ ...OLIVE, valueMgKohPerG: 180 })).words).toContain('180 mg/g is 4 below the published range');
  for (const valueMgKohPerG of [184, 196]) expect(questionsOf({ ...OLIVE, valueMgKohPerG })).toEqual([]);
});

test('a slip is seen up to the ends of the range: 18.4 and 19.6 have lost a digit', () => {
  for (const valueMgKohPerG of [18.4, 19.6]) expect(valueOf(judgeCertificate({ ...OLIVE, valueMgKohPerG })).words).toContain('look for a lost digit');
  expect(valueOf(judgeCertificate({ ...OLIVE, valueMgKohPerG: 18.3 })).words).toContain('Ask the supplier');
});

test('a refusal carries what was typed', () => {
  const refused = judgeCertificate({ ...OLIVE, fatKey: 'engine_oil', date: 'May' });
  expect(refused.ok ? [] : refused.problems.map((each) => each.fields)).toEqual([{ fatKey: 'engine_oil' }, { date: 'May' }]);
});
