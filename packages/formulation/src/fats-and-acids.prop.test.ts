import fc from 'fast-check';
import { expect, test } from 'vitest';
import { acidSharesOfBlend } from './acid-shares.ts';
import { judgeCertificate } from './certificate.ts';
import { FATS } from './fats.ts';
import { FATTY_ACIDS } from './fatty-acids.ts';
import { iodineValueFromAcids } from './iodine-value.ts';
import { saponificationValueFromAcids } from './saponification-from-acids.ts';
import { valueOf } from './testing.ts';

const fatKey = fc.constantFrom(...FATS.map((fat) => fat.key));
const anyNumber = fc.oneof(fc.double(), fc.integer(), fc.constantFrom(0, -0, NaN, Infinity, -Infinity, Number.MAX_VALUE, Number.MIN_VALUE));
const blend = fc.uniqueArray(fc.record({ fatKey, sharePercent: fc.integer({ min: 1, max: 100 }) }), {
  selector: (share) => share.fatKey,
  minLength: 1,
  maxLength: 8,
});

/** Every number anywhere in a value. */
function numbersIn(value: unknown): number[] {
  if (typeof value === 'number') return [value];
  return value !== null && typeof value === 'object' ? Object.values(value).flatMap(numbersIn) : [];
}

test('a certificate of any numbers is judged or refused with a code, never NaN, and its words have figures', () => {
  fc.assert(
    fc.property(fatKey, anyNumber, anyNumber, fc.option(fc.string(), { nil: undefined }), (key, valueMgKohPerG, expandedUncertainty, date) => {
      const judged = judgeCertificate({ fatKey: key, valueMgKohPerG, expandedUncertainty, ...(date === undefined ? {} : { date }) });
      if (judged.ok) {
        expect(numbersIn(judged.value).every(Number.isFinite)).toBe(true);
        expect(judged.value.words).toMatch(/\d/u);
        expect(judged.value.words).not.toMatch(/NaN|Infinity|undefined/u);
        expect(judged.value.verdict === 'inside').toBe(judged.value.questions.length === 0);
      } else expect(judged.problems.length).toBeGreaterThan(0);
    }),
    { numRuns: 3000 },
  );
});

test('a certificate within its published range is never called outside', () => {
  fc.assert(
    fc.property(fc.constantFrom(...FATS), fc.double({ min: 0, max: 1, noNaN: true }), (fat, part) => {
      const { low, high } = fat.saponificationValue;
      const judged = valueOf(judgeCertificate({ fatKey: fat.key, valueMgKohPerG: low + (high - low) * part, expandedUncertainty: 0.5 }));
      expect(judged.questions.map((each) => each.code)).not.toContain('outside-range');
    }),
    { numRuns: 2000 },
  );
});

test('the order of fats and the scale of their shares are irrelevant to a blend', () => {
  fc.assert(
    fc.property(blend, (shares) => {
      const straight = numbersIn(valueOf(acidSharesOfBlend(shares)));
      const turned = numbersIn(valueOf(acidSharesOfBlend([...shares].reverse().map((share) => ({ ...share, sharePercent: share.sharePercent / 2 })))));
      expect(turned).toHaveLength(straight.length);
      for (const [index, value] of straight.entries()) expect(turned[index]).toBeCloseTo(value, 8);
    }),
    { numRuns: 1000 },
  );
});

test('each class lies in 0 to 100 %, and the three can add to 100', () => {
  fc.assert(
    fc.property(blend, (shares) => {
      const { shares: classes } = valueOf(acidSharesOfBlend(shares));
      if (!classes) return;
      const bounds = Object.values(classes);
      expect(bounds.every(({ low, high }) => low >= -1e-9 && low <= high + 1e-9 && high <= 100 + 1e-9)).toBe(true);
      expect(bounds.reduce((sum, { low }) => sum + low, 0)).toBeLessThanOrEqual(100 + 1e-6);
      expect(bounds.reduce((sum, { high }) => sum + high, 0)).toBeGreaterThanOrEqual(100 - 1e-6);
    }),
    { numRuns: 1000 },
  );
});

test('values of a profile lie between those of its acids alone', () => {
  const acid = fc.constantFrom(...FATTY_ACIDS.map((each) => each.code));
  fc.assert(
    fc.property(acid, acid, fc.double({ min: 0, max: 100, noNaN: true }), (first, second, percent) => {
      for (const of of [
        (code: string) => valueOf(saponificationValueFromAcids([{ acid: code, percent: 100 }])).svMgKohPerG,
        (code: string) => valueOf(iodineValueFromAcids([{ acid: code, percent: 100 }])).iodineValue,
      ]) {
        expect(Number.isFinite(of(first))).toBe(true);
        expect(of(second)).toBeGreaterThanOrEqual(0);
      }
      const mixed = [
        { acid: first, percent },
        { acid: second, percent: 100 - percent },
      ];
      const ends = [first, second].map((code) => valueOf(saponificationValueFromAcids([{ acid: code, percent: 100 }])).svMgKohPerG);
      const { svMgKohPerG } = valueOf(saponificationValueFromAcids(mixed));
      expect(svMgKohPerG).toBeGreaterThanOrEqual(Math.min(...ends) - 1e-9);
      expect(svMgKohPerG).toBeLessThanOrEqual(Math.max(...ends) + 1e-9);
    }),
    { numRuns: 2000 },
  );
});
