import { checkNumber } from './check-number.ts';
import type { Outcome } from './outcome.ts';
import { problem, refuse, succeed } from './outcome.ts';

/** Burette readings of acid in mL, for a flask without and with the fat; `acidMolPerL` for a monobasic acid. */
export type Titration = { fatMassG: number; acidMolPerL: number; blankMl: number; sampleMl: number };

/** Molar mass of KOH as rounded in ISO 3657. */
const KOH_MG_PER_MMOL = 56.1;

/**
 * Saponification value, mg KOH per g, from a back titration (ISO 3657): boiling in excess potassium
 * hydroxide uses some up, and the acid saved against the blank is what the fat took.
 */
export function saponificationValueByTitration(titration: Titration): Outcome<{ svMgKohPerG: number }> {
  const { fatMassG, acidMolPerL, blankMl, sampleMl } = titration;
  const problems = [
    ...checkNumber(fatMassG, '/fatMassG', { name: 'The mass of fat', unit: 'g', min: 0.01, max: 100 }),
    ...checkNumber(acidMolPerL, '/acidMolPerL', { name: 'The strength of the acid', unit: 'mol/L', min: 0.01, max: 5 }),
    ...checkNumber(blankMl, '/blankMl', { name: 'The blank', unit: 'mL', min: 0.01, max: 1000 }),
    ...checkNumber(sampleMl, '/sampleMl', { name: 'The sample', unit: 'mL', min: 0, max: 1000 }),
  ];
  if (problems.length === 0 && sampleMl > blankMl) {
    const detail = `The sample took ${sampleMl} mL of acid and the blank ${blankMl} mL; fat uses alkali up, so the sample must take less.`;
    problems.push(problem('value-out-of-range', '/sampleMl', detail, { sampleMl, blankMl }));
  }
  if (problems.length > 0) return refuse(problems);
  return succeed({ svMgKohPerG: (acidMolPerL * KOH_MG_PER_MMOL * (blankMl - sampleMl)) / fatMassG });
}
