import { describe, expect, it } from 'vitest';
import { FATS } from './fats.ts';
import { formulate } from './formulate.ts';
import { saponificationInBatch } from './saponification-in-batch.ts';
import { PLAIN_RECIPE, PURE, valueOf } from './testing.ts';

/*
 * Each fat of the catalogue alone: its published range (source named in its row; typed a second time in codex-ranges.test.ts for
 * the Codex fats) bounds the alkali and makes the band. Molar masses: IUPAC/CIAAW, KOH 56.1053 and NaOH 39.9968 g/mol.
 */
describe.each(FATS.map((fat) => [fat.key, fat] as const))('%s alone', (fatKey, fat) => {
  const { low, high } = fat.saponificationValue;
  const recipe = { ...PLAIN_RECIPE, fats: [{ fatKey, sharePercent: 100 }], superfatPercent: 0, superfatFloorPercent: 0 };

  it(`takes between ${low} and ${high} g of KOH for 1 kg, and 39.9968/56.1053 of it of NaOH (${fat.source})`, () => {
    const potassium = valueOf(formulate({ ...recipe, alkali: { kohSharePercent: 100 } }, PURE)).alkaliMassMg / 1000;
    const sodium = valueOf(formulate(recipe, PURE)).alkaliMassMg / 1000;
    expect(potassium).toBeGreaterThan(low);
    expect(potassium).toBeLessThan(high);
    expect(sodium).toBeGreaterThan((low * 39.9968) / 56.1053);
    expect(sodium).toBeLessThan((high * 39.9968) / 56.1053);
  });

  it('with 5 % superfat its band is 1 - 0.95 SV(nominal) / SV(either end), by hand', () => {
    const band = valueOf(formulate({ ...recipe, superfatPercent: 5 }, PURE)).superfatBandPercent;
    const surely = saponificationInBatch(fat).low;
    const at = (value: number): number => Math.max(-100, 100 * (1 - (0.95 * (low + high)) / 2 / value));
    expect(band.low).toBeCloseTo(at(surely), 2);
    expect(band.high).toBeCloseTo(at(high), 2);
    expect(surely).toBeLessThanOrEqual(low);
  });
});
