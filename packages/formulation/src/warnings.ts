import { figure } from './check-number.ts';
import type { Figures } from './figures.ts';
import { fatByKey } from './fats.ts';
import { liquidByKey } from './liquids.ts';
import type { Interval } from './outcome.ts';
import type { Purity, RecipeInput, Warning } from './recipe.ts';
import { PURITY_WITHOUT_CERTIFICATE } from './recipe.ts';

/** Our limits for a remark; common practice, no published source. */
const NEAR_BOILING_C = 90;
const HIGH_CONCENTRATION_PERCENT = 40;
const LOW_CONCENTRATION_PERCENT = 22;
const WIDE_BAND_PERCENT = 10;

/**
 * Heat: said as "at most" for an upper bound. Without ice the steam carries lye droplets, hence the
 * respirator; ice left at the end hides beads that go on heating later.
 */
function heatWarnings(figures: Figures): Warning[] {
  const { peak } = figures;
  const shown = `${peak.kind === 'estimate' ? 'about' : 'at most'} ${Math.ceil(peak.temperatureC)} °C`;
  const warnings: Warning[] = [];
  if (peak.temperatureC >= NEAR_BOILING_C) {
    warnings.push({
      code: 'near-boiling',
      detail: `The solution may reach ${shown} and spit or steam. Use more ice, colder water or a lower lye concentration.`,
    });
  }
  if (figures.iceMassMg === 0) {
    warnings.push({
      code: 'no-ice',
      detail: `No ice is planned: the solution may reach ${shown}. Mix with the ventilation on, and everybody near it wears a respirator as well as the other gear.`,
    });
  }
  if (peak.iceLeftMg > 0) {
    warnings.push({
      code: 'ice-left',
      detail: 'Some ice may be left when all the lye is in: stir until no ice and no bead is to be seen.',
    });
  }
  return warnings;
}

/** Strong solutions crystallise near 15 C (NaOH hydrates); thin ones make soft soap. */
function concentrationWarnings(percent: number): Warning[] {
  if (percent > HIGH_CONCENTRATION_PERCENT) {
    const detail = `A lye concentration of ${figure(percent, 1)} % dissolves slowly and can crystallise when cold; keep the jar at room temperature.`;
    return [{ code: 'high-concentration', detail }];
  }
  if (percent >= LOW_CONCENTRATION_PERCENT) return [];
  const detail = `A lye concentration of ${figure(percent, 1)} % is thin: the soap stays soft for long.`;
  return [{ code: 'low-concentration', detail }];
}

/** Whether an alkali in use has the assumed purity; an unused one does not matter. */
function withoutCertificate(recipe: RecipeInput, purity: Purity): boolean {
  const same = (a: Interval, b: Interval): boolean => a.low === b.low && a.high === b.high;
  const { kohSharePercent } = recipe.alkali;
  return (
    (kohSharePercent < 100 && same(purity.naohPercent, PURITY_WITHOUT_CERTIFICATE.naohPercent)) ||
    (kohSharePercent > 0 && same(purity.kohPercent, PURITY_WITHOUT_CERTIFICATE.kohPercent))
  );
}

/**
 * Remarks that do not stop a recipe; each is one sentence or two that say what to do. What could burn
 * somebody comes first, what only spoils a batch last. They repeat nothing that a refusal says.
 */
export function warningsFor(recipe: RecipeInput, purity: Purity, figures: Figures, band: Interval): Warning[] {
  const warnings = [...heatWarnings(figures), ...concentrationWarnings(figures.lyeConcentrationPercent)];
  for (const entry of recipe.liquids) {
    const liquid = liquidByKey(entry.liquidKey);
    for (const caution of liquid?.cautions ?? []) {
      warnings.push({ code: 'liquid-caution', detail: `${liquid?.name}: ${caution}` });
    }
  }
  for (const entry of recipe.fats) {
    const fat = fatByKey(entry.fatKey);
    if (fat?.kind === 'wax') {
      warnings.push({
        code: 'wax',
        detail: `${fat.name} is a wax: it saponifies slowly, so alkali meant for it can stay free for long. Count on a higher superfat.`,
      });
    }
  }
  if (withoutCertificate(recipe, purity)) {
    warnings.push({
      code: 'purity-without-certificate',
      detail: 'The alkali has no certificate: its purity is assumed within wide limits, which widens the superfat band.',
    });
  }
  if (band.high - band.low > WIDE_BAND_PERCENT) {
    warnings.push({
      code: 'wide-superfat-band',
      detail: `The superfat band is ${figure(band.high - band.low, 1)} points wide; certificates for oils and alkali, or a finer scale, narrow it.`,
    });
  }
  return warnings;
}
