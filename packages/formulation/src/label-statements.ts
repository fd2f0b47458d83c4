import { NAOH_G_PER_MOL, KOH_G_PER_MOL } from './alkali.ts';
import type { AlkaliKind, SolutionHazard } from './hazard.ts';
import { hazardOfSolution } from './hazard.ts';

/** 'from memory': the wording was not seen in a document for this table. */
export type Precaution = { code: string; text: string; usText?: string; provenance: 'read' | 'from memory' };

/** EU wording after CLP Annex IV; `usText` where 29 CFR 1910.1200 App. C words it otherwise (from memory). */
// prettier-ignore
const P: readonly (readonly [string, string, Precaution['provenance'], string?])[] = [
  ['P234', 'Keep only in original packaging.', 'read'],
  ['P260', 'Do not breathe dust/fume/gas/mist/vapours/spray.', 'read', 'Do not breathe dusts or mists.'],
  ['P264', 'Wash hands and exposed skin thoroughly after handling.', 'read'],
  ['P270', 'Do not eat, drink or smoke when using this product.', 'read'],
  ['P280', 'Wear protective gloves/protective clothing/eye protection/face protection.', 'read'],
  ['P301+P330+P331', 'IF SWALLOWED: Rinse mouth. Do NOT induce vomiting.', 'read', 'If swallowed: Rinse mouth. Do NOT induce vomiting.'],
  ['P302+P352', 'IF ON SKIN: Wash with plenty of water.', 'from memory', 'If on skin: Wash with plenty of water.'],
  ['P303+P361+P353', 'IF ON SKIN (or hair): Take off immediately all contaminated clothing. Rinse skin with water or shower.', 'read', 'If on skin (or hair): Take off immediately all contaminated clothing. Rinse skin with water or shower.'],
  ['P363', 'Wash contaminated clothing before reuse.', 'read'],
  ['P304+P340', 'IF INHALED: Remove person to fresh air and keep comfortable for breathing.', 'read', 'If inhaled: Remove person to fresh air and keep comfortable for breathing.'],
  ['P305+P351+P338', 'IF IN EYES: Rinse cautiously with water for several minutes. Remove contact lenses, if present and easy to do. Continue rinsing.', 'read', 'If in eyes: Rinse cautiously with water for several minutes. Remove contact lenses, if present and easy to do. Continue rinsing.'],
  ['P310', 'Immediately call a POISON CENTER/doctor.', 'read', 'Immediately call a poison center or doctor.'],
  ['P332+P313', 'If skin irritation occurs: Get medical advice/attention.', 'read'],
  ['P337+P313', 'If eye irritation persists: Get medical advice/attention.', 'read'],
  ['P390', 'Absorb spillage to prevent material damage.', 'from memory'],
  ['P405', 'Store locked up.', 'read'],
  ['P501', 'Dispose of contents/container in accordance with local rules.', 'read'],
];

/** Sets after CLP Annex I Tables 3.2.5, 3.3.5 and 2.16.2 (3.3.5 read, the others from memory). */
const CORROSIVE = ['P234', 'P260', 'P264', 'P280', 'P301+P330+P331', 'P303+P361+P353', 'P363', 'P304+P340', 'P305+P351+P338', 'P310', 'P390', 'P405', 'P501'];
const IRRITANT = ['P264', 'P280', 'P302+P352', 'P305+P351+P338', 'P332+P313', 'P337+P313'];

export const SUPPLIER_FIRST = "Follow the supplier's safety data sheet: it comes before this label, and so do local rules.";

/** Percent at which a thin solution reaches pH 11.5, that is 10^-2.5 mol/L, at a density of 1 g/mL. */
const PH_LIMIT_PERCENT = { NaOH: 10 ** -2.5 * NAOH_G_PER_MOL * 0.1, KOH: 10 ** -2.5 * KOH_G_PER_MOL * 0.1 } as const;

export type UsHazard = { classification: string; signalWord: 'Danger' | null; statements: string[]; precautions: string[]; note: string };

export type SolutionLabel = SolutionHazard & { precautions: Precaution[]; us: UsHazard; supplierFirst: string };

function precautionsOf(signalWord: SolutionHazard['signalWord'], harmful: boolean): Precaution[] {
  const codes = signalWord === 'Danger' ? [...CORROSIVE, ...(harmful ? ['P270'] : [])] : signalWord === 'Warning' ? IRRITANT : [];
  return P.filter(([code]) => codes.includes(code)).map(([code, text, provenance, usText]): Precaution => ({
    code,
    text,
    provenance,
    ...(usText ? { usText } : {}),
  }));
}

/**
 * US HazCom has no table of limits for these alkalis: without test data a mixture of pH 11.5 or more
 * counts as corrosive (29 CFR 1910.1200 App. A; from memory). So a 1 % solution, an irritant in the
 * EU, is labelled Danger in the US.
 */
function usHazard(kind: AlkaliKind, percent: number, harmful: boolean): UsHazard {
  const limit = kind === 'KOH' ? PH_LIMIT_PERCENT.KOH : PH_LIMIT_PERCENT.NaOH;
  const valid = percent >= 0 && percent <= 100;
  const corrosive = !valid || percent >= limit;
  return {
    classification: corrosive
      ? `Skin Corrosion Category 1; Serious Eye Damage Category 1; Corrosive to Metals Category 1${harmful ? '; Acute Toxicity (oral) Category 4' : ''}`
      : 'not classified by pH',
    signalWord: corrosive ? 'Danger' : null,
    statements: corrosive ? ['May be corrosive to metals.', ...(harmful ? ['Harmful if swallowed.'] : []), 'Causes severe skin burns and eye damage.'] : [],
    precautions: precautionsOf(corrosive ? 'Danger' : null, harmful).map((each) => each.usText ?? each.text),
    note: '29 CFR 1910.1200, from memory: no limits by concentration; pH 11.5 and over is corrosive without test data. Codes need not be printed.',
  };
}

/**
 * Everything for the label of a workplace jar: EU class, signal word and hazard statements as
 * `hazardOfSolution`, precautionary statements, and the US wording beside them. Help for a label, not
 * a classification by law; `supplierFirst` is printed with it, always.
 */
export function labelOfSolution(kind: AlkaliKind, concentrationPercent: number): SolutionLabel {
  const hazard = hazardOfSolution(kind, concentrationPercent);
  const harmful = hazard.statements.some((each) => each.code === 'H302');
  return {
    ...hazard,
    precautions: precautionsOf(hazard.signalWord, harmful),
    us: usHazard(kind, concentrationPercent, harmful),
    supplierFirst: SUPPLIER_FIRST,
  };
}
