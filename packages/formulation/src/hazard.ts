/** Which alkali a solution holds; 'dual' is both, judged by the stricter of each. */
export type AlkaliKind = 'NaOH' | 'KOH' | 'dual';

export type SolutionHazard = {
  classification: string;
  /** null: below every limit, not classified for skin and eyes. */
  signalWord: 'Danger' | 'Warning' | null;
  statements: { code: string; text: string }[];
  source: string;
};

const SOURCE =
  "Regulation (EC) 1272/2008 (CLP), Annex VI Table 3, specific concentration limits; read in a secondary copy, the 0.5 to 2 % eye entry from memory. The supplier's safety data sheet comes first.";

const H290 = { code: 'H290', text: 'May be corrosive to metals.' };
const H302 = { code: 'H302', text: 'Harmful if swallowed.' };
const H314 = { code: 'H314', text: 'Causes severe skin burns and eye damage.' };
const H315 = { code: 'H315', text: 'Causes skin irritation.' };
const H319 = { code: 'H319', text: 'Causes serious eye irritation.' };

/**
 * KOH solutions at which an oral toxicity estimate of 273 mg/kg (supplier sheets) crosses the limit
 * of 2000 mg/kg for category 4: 100 * 273 / 2000, about 14 % (CLP Annex I, 3.1.3.6).
 */
const KOH_HARMFUL_PERCENT = 14;

/**
 * Hazard of a hydroxide solution by mass percent: limits at 5 % (Skin Corr. 1A), 2 % (1B) and 0.5 %
 * (Skin Irrit. 2, Eye Irrit. 2), each included; the same for NaOH and KOH. H290 is the suppliers' own
 * classification, shown with every corrosive one. A concentration that is not a number, or outside
 * 0 to 100, is judged as the worst: a wrong figure must never make a label milder.
 *
 * The pH rule of CLP Annex I 3.2.3 (pH 11.5 and over counts as corrosive without other data) is
 * overruled here by the specific limits, which are such data. This is help, not a classification.
 */
export function hazardOfSolution(kind: AlkaliKind, concentrationPercent: number): SolutionHazard {
  const valid = concentrationPercent >= 0 && concentrationPercent <= 100;
  const percent = valid ? concentrationPercent : 100;
  const holdsKoh = kind !== 'NaOH';
  if (percent >= 2) {
    const harmful = holdsKoh && percent >= KOH_HARMFUL_PERCENT;
    return {
      classification: `${harmful ? 'Acute Tox. 4; ' : ''}${percent >= 5 ? 'Skin Corr. 1A' : 'Skin Corr. 1B'}; Met. Corr. 1`,
      signalWord: 'Danger',
      statements: [H290, ...(harmful ? [H302] : []), H314],
      source: SOURCE,
    };
  }
  if (percent >= 0.5) {
    return { classification: 'Skin Irrit. 2; Eye Irrit. 2', signalWord: 'Warning', statements: [H315, H319], source: SOURCE };
  }
  return { classification: 'not classified', signalWord: null, statements: [], source: SOURCE };
}
