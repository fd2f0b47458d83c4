import { labelOfSolution } from '@ashwater/formulation';
import { describe, expect, test } from 'vitest';
import { differs, labelLines, usWords } from './label-words.ts';

const ofNaoh = (percent: number) => {
  const { signalWord, statements, precautions, us, supplierFirst } = labelOfSolution('NaOH', percent);
  const label = { precautions, us: { signalWord: us.signalWord ?? '', statements: us.statements }, coldStorage: null, supplierFirst };
  return { hazard: { signalWord: signalWord ?? '', statements }, label };
};

describe('what stands on a jar', () => {
  // CLP Article 28(3), Regulation (EC) 1272/2008: "Not more than six precautionary statements shall appear on the label".
  test('at most six precautionary statements, those one acts by at once', () => {
    const lines = labelLines(ofNaoh(33).label);
    expect(lines).toHaveLength(6);
    expect(lines.map(({ code }) => code)).toEqual(['P280', 'P303+P361+P353', 'P305+P351+P338', 'P301+P330+P331', 'P310', 'P405']);
    expect(labelLines(ofNaoh(1).label).length).toBeLessThanOrEqual(6);
  });

  test('the US wording only where it is other than capitals', () => {
    expect(differs('IF SWALLOWED: Rinse mouth.', 'If swallowed: Rinse mouth.')).toBe(false);
    expect(labelLines(ofNaoh(33).label).find(({ code }) => code === 'P310')?.usText).toBe('Immediately call a poison center or doctor.');
    expect(labelLines(ofNaoh(33).label).filter(({ usText }) => usText !== null)).toHaveLength(1);
  });

  test('a 1 % solution irritates in the EU (CLP Annex VI, 0.5 to 2 %) and is Danger in the US (pH 11.5 and over)', () => {
    const thin = ofNaoh(1);
    expect(thin.hazard.signalWord).toBe('Warning');
    expect(usWords(thin.hazard, thin.label)).toMatch(/^Danger\. May be corrosive to metals\. Causes severe skin burns and eye damage\.$/u);
    expect(usWords(ofNaoh(33).hazard, ofNaoh(33).label)).toBe('');
  });
});
