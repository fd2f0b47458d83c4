import { expect, test } from 'vitest';
import { lotHydroxide, middleAndHalf } from './lot-certificate.ts';
import type { LotCertificate } from './lot-certificate.ts';

const LOT: LotCertificate = {
  substance: 'NaOH',
  assayIs: 'total alkali',
  purityPercent: 99,
  purityUncertaintyPercent: 0.5,
  carbonatePercent: 1,
  waterPercent: null,
};
const content = (change: Partial<LotCertificate> = {}) => {
  const read = lotHydroxide({ ...LOT, ...change });
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.value;
};

// Stoichiometry typed by hand (IUPAC abridged atomic weights 2021: H 1.008, C 12.011, O 15.999, Na 22.990, K 39.098):
// NaOH 39.997, Na2CO3 105.988, KOH 56.105, K2CO3 138.204 g/mol; one mole of carbonate titrates as two of hydroxide.
test('total alkali counts carbonate as hydroxide: what it was is taken off at the low end, and nothing at the high end', () => {
  expect(content().low).toBeCloseTo(98.5 - (2 * 39.997) / 105.988, 2);
  expect(content().high).toBe(99.5);
  const koh = content({ substance: 'KOH', purityPercent: 90, carbonatePercent: 2 });
  expect(koh.low).toBeCloseTo(89.5 - (2 * 56.105 * 2) / 138.204, 2);
  expect(koh.high).toBe(90.5);
});

test('hydroxide as such has carbonate taken off already, and a silent certificate takes nothing off', () => {
  expect(content({ assayIs: 'hydroxide', carbonatePercent: 5 })).toEqual({ low: 98.5, nominal: 99, high: 99.5 });
  expect(content({ carbonatePercent: null })).toMatchObject({ low: 98.5, high: 99.5 });
});

test('water as a most narrows nothing: none of it may be there', () => {
  expect(content({ waterPercent: 4 })).toEqual(content());
});

test('a certificate that would leave less than half as hydroxide is asked about at its carbonate', () => {
  const read = lotHydroxide({ ...LOT, purityPercent: 60, carbonatePercent: 40 });
  expect(read).toMatchObject({ ok: false, problems: [{ pointer: '/carbonatePercent' }] });
  expect(lotHydroxide({ ...LOT, purityPercent: 40 })).toMatchObject({
    ok: false,
    problems: [{ pointer: '/purityPercent' }, { pointer: '/purityPercent' }, { pointer: '/purityPercent' }],
  });
});

test('an interval as middle and half holds at least what it held', () => {
  const { percent, uncertaintyPercent } = middleAndHalf({ low: 97.7452, high: 99.5 });
  expect(percent - uncertaintyPercent).toBeCloseTo(97.745, 9);
  expect(percent + uncertaintyPercent).toBeCloseTo(99.5, 9);
  expect(middleAndHalf({ low: 98.5, high: 99.5 })).toEqual({ percent: 99, uncertaintyPercent: 0.5 });
});
