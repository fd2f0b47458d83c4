import { expect, test } from 'vitest';
import { ATOMIC_WEIGHT, KOH_G_PER_MOL, NAOH_PER_KOH, alkaliToWeigh, needMetMg, needOfKohMg } from './alkali.ts';

const { C, H, O } = ATOMIC_WEIGHT;

/** Saponification value of a pure triglyceride: three KOH per molecule, mg per g. */
function triglycerideSv(carbon: number, hydrogen: number): number {
  return (3 * KOH_G_PER_MOL * 1000) / (carbon * C + hydrogen * H + 6 * O);
}

const PURE = { naoh: 100, koh: 100 };

test.each([
  // Molar masses from the standard atomic weights of IUPAC/CIAAW; the definition is ISO 3657.
  { name: 'triolein', carbon: 57, hydrogen: 104, sv: 190.09 },
  { name: 'tristearin', carbon: 57, hydrogen: 110, sv: 188.8 },
  { name: 'tripalmitin', carbon: 51, hydrogen: 98, sv: 208.48 },
  { name: 'trilaurin', carbon: 39, hydrogen: 74, sv: 263.4 },
])('$name takes $sv mg KOH per g', ({ carbon, hydrogen, sv }) => {
  expect(triglycerideSv(carbon, hydrogen)).toBeCloseTo(sv, 1);
  expect(needOfKohMg(1_000_000, triglycerideSv(carbon, hydrogen)) / 1000).toBeCloseTo(sv, 1);
});

test('the mass ratio of NaOH to KOH is 39.9968 to 56.1053, 0.71289', () => {
  expect(NAOH_PER_KOH).toBeCloseTo(0.71289, 5);
});

test('100 kg of tallow as tristearin take 13.483 kg NaOH within 0.2 % (Bhatt & Vora, Stoichiometry, ex. 4.7, with M = 890 and 40); 13.459 with exact masses', () => {
  const needMg = needOfKohMg(100_000_000, triglycerideSv(57, 110));
  const { naohMg, kohMg } = alkaliToWeigh(needMg, 0, 0, PURE);
  expect(Math.abs(naohMg / 13_483_000 - 1)).toBeLessThan(0.002);
  expect(naohMg / 1e6).toBeCloseTo(13.459, 3);
  expect(kohMg).toBe(0);
});

test('a lot of 90 % purity is weighed out 1/0.9 times', () => {
  expect(alkaliToWeigh(9000, 100, 0, { naoh: 100, koh: 90 }).kohMg).toBeCloseTo(10_000, 9);
});

test('5 % superfat leaves 5 % of the need, whatever the mix of alkalis', () => {
  for (const share of [0, 30, 100]) {
    const masses = alkaliToWeigh(1000, share, 5, { naoh: 97, koh: 88 });
    expect(needMetMg(masses, { naoh: 97, koh: 88 })).toBeCloseTo(950, 9);
  }
});

test('titration: 1.53 g oil with 13.2 mL of 0.5 N KOH has SV 242.0 (student laboratory table, with 56.1)', () => {
  expect(needOfKohMg(1530, 242)).toBeCloseTo(0.5 * 56.1 * (20.2 - 7.0), 1);
});
