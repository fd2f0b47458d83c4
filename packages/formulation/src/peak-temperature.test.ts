import { expect, test } from 'vitest';
import type { LyePot } from './peak-temperature.ts';
import { peakTemperature } from './peak-temperature.ts';

/** A kilogram of water at 20 C, part of it ice at -10 C, and NaOH to the concentration. */
function lye(percent: number, iceShare: number, koh = false): LyePot {
  const alkaliMg = (1_000_000 * percent) / (100 - percent);
  return {
    naohMg: koh ? 0 : alkaliMg,
    kohMg: koh ? alkaliMg : 0,
    waterMg: 1_000_000 * (1 - iceShare),
    waterTemperatureC: 20,
    iceMg: 1_000_000 * iceShare,
    iceTemperatureC: -10,
  };
}

test('coffee-cup calorimeter: 6.50 g NaOH in 100.0 g water at 21.6 C reach 37.8 C within 1 C (Brown/LeMay, Chemistry, exercise)', () => {
  const peak = peakTemperature({ naohMg: 6500, kohMg: 0, waterMg: 100_000, waterTemperatureC: 21.6, iceMg: 0, iceTemperatureC: 0 });
  expect(Math.abs(peak.temperatureC - 37.8)).toBeLessThan(1);
  expect(peak.kind).toBe('estimate');
});

test('20 mol NaOH and 80 mol water from 25 C pass the 98.4 C of the textbook, which takes the solution for water (Felder & Rousseau, problem 8.83 b)', () => {
  const peak = peakTemperature({
    naohMg: 20 * 39_997,
    kohMg: 0,
    waterMg: 80 * 18_015,
    waterTemperatureC: 25,
    iceMg: 0,
    iceTemperatureC: 0,
  });
  expect(peak.temperatureC).toBeGreaterThan(98.4);
  expect(peak.temperatureC).toBeLessThan(120);
});

/* Common practice of soap studios, no source: half ice does not steam, three quarters practically not, none steams. */
test('a one-in-three lye without ice passes 100 C, so boiling is likely around the beads', () => {
  const peak = peakTemperature(lye(33.3, 0));
  expect(peak.temperatureC).toBeGreaterThan(100);
  expect(peak.temperatureC).toBeLessThan(peak.boilingPointC);
  expect(peak.steam).toBe('boiling likely');
});

test('a quarter of the water as ice is not enough: it stays under 100 C but steams', () => {
  const peak = peakTemperature(lye(33.3, 0.25));
  expect(peak.temperatureC).toBeLessThan(100);
  expect(peak.steam).toBe('likely');
});

test('half of the water as ice keeps a one-in-three lye 25 C and more below 100 C', () => {
  const peak = peakTemperature(lye(33.3, 0.5));
  expect(peak.temperatureC).toBeLessThan(75);
  expect(peak.steam).toBe('little');
});

test('three quarters as ice give practically no steam', () => {
  const peak = peakTemperature(lye(33.3, 0.75));
  expect(peak.temperatureC).toBeLessThan(55);
  expect(peak.steam).toBe('practically none');
  expect(peak.iceLeftMg).toBe(0);
});

test('a thin lye on ice alone leaves ice, at 0 C, less of it than went in', () => {
  const peak = peakTemperature(lye(10, 1));
  expect(peak.temperatureC).toBe(0);
  expect(peak.iceLeftMg).toBeGreaterThan(500_000);
  expect(peak.iceLeftMg).toBeLessThan(1_000_000);
});

test('past 45 % the hottest moment comes before the last lye', () => {
  const half = peakTemperature(lye(45, 0)).temperatureC;
  expect(peakTemperature(lye(51.5, 0)).temperatureC).toBeGreaterThanOrEqual(half - 0.5);
});

test('any potassium hydroxide makes it an upper bound with the boiling point of water', () => {
  const peak = peakTemperature(lye(30, 0.5, true));
  expect(peak.kind).toBe('upper bound');
  expect(peak.boilingPointC).toBe(100);
});

test('the KOH bound is above plain water warmed by half its heat of solution, and below all of it in 60 % of the heat capacity', () => {
  const gram = 1_000_000 * (20 / 80);
  const heatKJ = (gram / 1000 / 56.1053) * 57.61;
  const bound = peakTemperature(lye(20, 0, true)).temperatureC;
  expect(bound).toBeGreaterThan(20 + heatKJ / 2 / 4.18);
  expect(bound).toBeLessThan(20 + heatKJ / 0.6 / 4.18);
});

test('the KOH bound for 23.75 % from 25 C is all of 57.61 kJ/mol in a solution of 0.750 cal/(g C) (Parker 1965; Perry 7th ed., from memory), and up to 6 C more', () => {
  const rise = (0.2375 * 57_610) / 56.1053 / (0.75 * 4.184);
  const alkaliMg = (1_000_000 * 23.75) / 76.25;
  const peak = peakTemperature({ naohMg: 0, kohMg: alkaliMg, waterMg: 1_000_000, waterTemperatureC: 25, iceMg: 0, iceTemperatureC: 0 });
  expect(peak.temperatureC).toBeGreaterThan(25 + rise - 1.5);
  expect(peak.temperatureC).toBeLessThan(25 + rise + 6);
});
