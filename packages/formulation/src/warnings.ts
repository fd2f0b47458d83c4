import { acidByKey } from './acids.ts';
import { figure } from './check-number.ts';
import type { Figures } from './figures.ts';
import { openPotOf } from './figures.ts';
import { fatOfShare } from './fat-of-share.ts';
import { iceForLimit } from './ice-for-limit.ts';
import { liquidByKey } from './liquids.ts';
import type { Interval } from './outcome.ts';
import type { Line, Purity, RecipeInput, Warning } from './recipe.ts';
import { PURITY_WITHOUT_CERTIFICATE } from './recipe.ts';
import type { BandInput } from './superfat-band.ts';
import { superfatBand } from './superfat-band.ts';

/** What is warned of: a recipe as it was worked out, and what its band was worked out from. */
export type Judged = { recipe: RecipeInput; purity: Purity; lines: readonly Line[]; figures: Figures; input: BandInput };

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

/** A certificate may leave the published range by this share before another oil's value may have slipped in. */
const CERTIFICATE_SLACK = 0.05;

function certificateWarning(share: RecipeInput['fats'][number]): Warning[] {
  const fat = fatOfShare(share);
  const value = share.certificateSv?.valueMgKohPerG;
  if (!fat || value === undefined) return [];
  const { low, high } = fat.saponificationValue;
  if (value >= low * (1 - CERTIFICATE_SLACK) && value <= high * (1 + CERTIFICATE_SLACK)) return [];
  const detail = `The certificate says ${figure(value, 1)} mg/g for ${fat.name}; published are ${figure(low)} to ${figure(high)}. Is it the certificate of this oil? The alkali follows the certificate.`;
  return [{ code: 'certificate-outside-range', detail }];
}

/** Superfat without the late fats: where its worst case is below 0 the batter is caustic until they are in. */
function lateFatWarning({ recipe, input }: Judged): Warning[] {
  const late = recipe.fats.filter((fat) => fat.late);
  if (late.length === 0) return [];
  const base = superfatBand({ ...input, fats: input.fats.filter((_, index) => !recipe.fats[index]?.late) });
  const lateFatPoints = superfatBand(input).nominal - base.nominal;
  const names = late.map((fat) => fatOfShare(fat)?.name ?? fat.fatKey).join(' and ');
  const detail =
    base.low < 0
      ? `Until ${names} is stirred in, the batter can hold more lye than its fats can take up: treat it as lye, and never leave the late fat out.`
      : `Of the superfat ${figure(lateFatPoints, 1)} points are ${names}, stirred in last; without it ${figure(base.nominal, 1)} % is left.`;
  return [{ code: 'late-fat', detail }];
}

/** An acid's extra alkali is safe only if the acid is there first; what a forgotten acid would leave is said. */
function acidWarnings({ recipe, input }: Judged): Warning[] {
  const taking = (recipe.acids ?? []).filter((acid) => acidByKey(acid.acidKey)?.takesAlkali);
  if (taking.length === 0) return [];
  const names = taking.map((acid) => acidByKey(acid.acidKey)?.name.toLowerCase() ?? acid.acidKey).join(' and ');
  const { low } = superfatBand({ ...input, acids: [] });
  const without = low < 0 ? 'without it the soap can hold free alkali' : `without it as little as ${figure(Math.floor(low * 10) / 10, 1)} % superfat is left`;
  return [
    {
      code: 'acid-before-lye',
      detail: `The alkali holds extra for ${names}: dissolve it in the liquid before the lye goes in, and never leave it out, for ${without}.`,
    },
  ];
}

/** The ice share that would do is named, or that none does. */
function limitWarning({ recipe, lines, figures: { peak } }: Judged): Warning[] {
  const limit = recipe.peakLimitC;
  if (limit === undefined || peak.temperatureC <= limit) return [];
  const shown = `${peak.kind === 'estimate' ? 'about' : 'at most'} ${Math.ceil(peak.temperatureC)} °C`;
  const ice = iceForLimit(openPotOf(recipe, lines), limit);
  const help = ice.ok ? ` ${ice.value.words}` : '';
  return [{ code: 'over-peak-limit', detail: `The solution may reach ${shown}, above the ${figure(limit)} °C to stay under.${help}` }];
}

/**
 * Remarks that do not stop a recipe; each is one sentence or two that say what to do. What could burn
 * somebody comes first, what only spoils a batch last. They repeat nothing that a refusal says.
 */
export function warningsFor(judged: Judged): Warning[] {
  const { recipe, purity, figures } = judged;
  const band = superfatBand(judged.input);
  const warnings = [
    ...lateFatWarning(judged),
    ...acidWarnings(judged),
    ...heatWarnings(figures),
    ...limitWarning(judged),
    ...concentrationWarnings(figures.potConcentrationPercent),
  ];
  for (const entry of recipe.liquids) {
    const liquid = liquidByKey(entry.liquidKey);
    for (const caution of liquid?.cautions ?? []) {
      warnings.push({ code: 'liquid-caution', detail: `${liquid?.name}: ${caution}` });
    }
  }
  for (const entry of recipe.fats) {
    const fat = fatOfShare(entry);
    warnings.push(...certificateWarning(entry));
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
