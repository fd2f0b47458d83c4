import { expect, it } from 'vitest';
import { bandCauses, exactly, superfatBand } from './superfat-band.ts';
import { lineAt } from './weigh-line.ts';

/*
 * By hand, in units of pure KOH (assay 100 %): 1000 g of fat of SV 200 need 200 g; 190 g of KOH meet it but for what 10 g of an
 * acid take, 0.5 g each: nominal superfat 1 - (190 - 5) / 200 = 7.5 %.
 */
const pure = exactly(100);
const input = {
  fats: [{ massMg: { low: 990_000, nominal: 1_000_000, high: 1_010_000 }, saponificationValue: { low: 196, nominal: 200, high: 204 } }],
  acids: [{ massMg: { low: 9000, nominal: 10_000, high: 11_000 }, takesKohPerMg: { low: 0.4, nominal: 0.5, high: 0.6 } }],
  naohMg: exactly(0),
  kohMg: { low: 188_000, nominal: 190_000, high: 192_000 },
  purity: { naohPercent: pure, kohPercent: { low: 99, nominal: 100, high: 100 } },
};

it('what acids take counts at its least for the low end and at its most for the high end', () => {
  const band = superfatBand(input);
  expect(band.nominal).toBeCloseTo(7.5, 9);
  expect(band.low).toBeCloseTo(100 * (1 - (192 - 3.6) / (0.99 * 196)), 9);
  expect(band.high).toBeCloseTo(100 * (1 - (188 * 0.99 - 6.6) / (1.01 * 204)), 9);
});

it('each cause alone, by hand: oils 1 - 185/196, acid 1 - (190 - 4)/200, weighing 1 - (192 - 4.5)/198, purity nothing', () => {
  const alone = Object.fromEntries(bandCauses(input).map((cause) => [cause.what, cause.lowersByPercent]));
  expect(alone['oil variability']).toBeCloseTo(7.5 - 100 * (1 - 185 / 196), 9);
  expect(alone['acid strength']).toBeCloseTo(0.5, 9);
  expect(alone['weighing']).toBeCloseTo(7.5 - 100 * (1 - 187.5 / 198), 9);
  expect(alone['alkali purity']).toBeCloseTo(0, 9);
  const { acids: _acids, ...without } = input;
  expect(bandCauses({ ...without, purity: { ...input.purity, kohPercent: { low: 99, nominal: 99.5, high: 100 } } }).map((cause) => cause.what)).not.toContain(
    'acid strength',
  );
});

it('more acid than alkali leaves no alkali at all, and no fat leaves nothing but it', () => {
  expect(superfatBand({ ...input, kohMg: exactly(1000) })).toEqual({ low: 100, nominal: 100, high: 100 });
  expect(superfatBand({ ...input, fats: [] })).toEqual({ low: -100, nominal: -100, high: -100 });
});

it('a line of 1 kg on 1 g may stray 5 g as fat (0.5 %), 20 g as water; a small one still a step; alkali never above its target; nothing above its cap', () => {
  const at = (kind: 'fat' | 'water' | 'naoh' | 'additive', targetMg: number, capMg?: number) => {
    const { acceptLowMg, acceptHighMg } = lineAt({ key: kind, kind, name: kind, massMg: targetMg }, targetMg, 1000, capMg);
    return [acceptLowMg, acceptHighMg];
  };
  expect(at('fat', 1_000_000)).toEqual([995_000, 1_005_000]);
  expect(at('water', 1_000_000)).toEqual([980_000, 1_020_000]);
  expect(at('fat', 10_000)).toEqual([9000, 11_000]);
  expect(at('naoh', 1_000_000)).toEqual([995_000, 1_000_000]);
  expect(at('additive', 1_000_000, 1_003_000)).toEqual([990_000, 1_003_000]);
  expect(at('additive', 1_000_000, 0)).toEqual([990_000, 1_000_000]);
});
