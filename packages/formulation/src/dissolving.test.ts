import { expect, test } from 'vitest';
import { dissolvesInPot } from './dissolving.ts';

const pot = (percent: number, iceShare: number, kohShare = 0) => {
  const alkaliMg = (1_000_000 * percent) / (100 - percent);
  return {
    naohMg: alkaliMg * (1 - kohShare),
    kohMg: alkaliMg * kohShare,
    waterMg: 1_000_000 * (1 - iceShare),
    waterTemperatureC: 20,
    iceMg: 1_000_000 * iceShare,
    iceTemperatureC: -18,
  };
};

test('a one-in-three lye on half ice dissolves: it ends far above 16 C', () => {
  const found = dissolvesInPot(pot(33.3, 0.5));
  expect(found.dissolves).toBe(true);
  expect(found.temperatureC).toBeGreaterThan(50);
});

test('a strong hot pot dissolves 52 %, and needs the water of its own temperature only', () => {
  const found = dissolvesInPot(pot(52, 0));
  expect(found.dissolves).toBe(true);
  expect(found.leastWaterMg).toBeLessThan(700_000);
});

test('ice that is left is not water: on ice alone a 10 % lye is stronger than planned', () => {
  const found = dissolvesInPot(pot(10, 1));
  expect(found.temperatureC).toBe(0);
  expect(found.concentrationPercent).toBeGreaterThan(10);
});

test('past the limit the sentence names the water that would do', () => {
  const found = dissolvesInPot(pot(56, 0, 1));
  expect(found.dissolves).toBe(false);
  expect(found.temperatureC).toBe(20);
  expect(found.words).toMatch(/^Not all alkali dissolves: 56 % is past the 52\.8 % of 20 °C\. Use at least 1138 g of water/u);
});

test('a pot with a missing figure does not dissolve, and no water is promised to be enough', () => {
  expect(dissolvesInPot({ ...pot(30, 0.5), waterMg: NaN })).toMatchObject({
    dissolves: false,
    leastWaterMg: Infinity,
    concentrationPercent: 100,
    limitPercent: 0,
  });
});

test('without alkali there is nothing to dissolve; what does dissolve says its figures', () => {
  expect(dissolvesInPot(pot(0, 0))).toMatchObject({ dissolves: true, concentrationPercent: 0, leastWaterMg: 0 });
  expect(dissolvesInPot(pot(40, 0, 1)).words).toBe('All alkali dissolves: 40 % of at most 52.8 % at 20 °C.');
});
