import { expect, test } from 'vitest';
import { batchVolumeMl } from './batch-volume.ts';
import { fatByKey } from './fats.ts';

const NOTHING = { fats: [], naohMg: 0, kohMg: 0, waterMg: 0, dryMatterMg: 0, additives: [] };

test('1 kg of water at 40 C fills 1007.9 mL (Kell 1975: 0.99222 g/mL), with 2.5 % either way for the model', () => {
  const volume = batchVolumeMl({ ...NOTHING, waterMg: 1_000_000 });
  expect(Math.abs(volume.nominal - 1007.9)).toBeLessThan(2.5);
  expect(volume.high / volume.nominal).toBeCloseTo(1.025, 3);
});

test('1 kg of coconut oil at 40 C: relative density 0.908 to 0.921 on water at 20 C (Codex CXS 210)', () => {
  const volume = batchVolumeMl({ ...NOTHING, fats: [{ fat: fatByKey('coconut'), massMg: 1_000_000 }], waterMg: 1 });
  expect(Math.abs(volume.high / 1.02 - 1000 / (0.908 * 0.9982))).toBeLessThan(0.2);
  expect(Math.abs(volume.low / 0.98 - 1000 / (0.921 * 0.9982))).toBeLessThan(0.2);
});

test('a denser additive takes less room, and an unknown one widens the range', () => {
  const clay = (densityGPerMl?: number) => batchVolumeMl({ ...NOTHING, waterMg: 1_000_000, additives: [{ massMg: 100_000, densityGPerMl }] });
  expect(clay(2.5).nominal).toBeLessThan(clay(1).nominal);
  expect(clay().high - clay().low).toBeGreaterThan(clay(1).high - clay(1).low);
});
