import { formatMass } from './quantity.ts';
import type { LineKind } from './recipe.ts';

export type Verdict = 'within' | 'under' | 'over';

/** The part of a plan line that a reading is judged by; masses in mg. */
export type ReadingLine = {
  kind: LineKind;
  name: string;
  targetMg: number;
  acceptLowMg: number;
  acceptHighMg: number;
  /** Step of the scale; only an ounce step, which is no whole number of mg, changes the judgement. */
  stepMg?: number;
};

/**
 * A scale that shows 0.1 oz moves by 2834.95 mg, planned as 2835: at 1.8 parts in 100 000 its true
 * readings drift from the planned multiples. That much is forgiven, and nothing on a metric step.
 */
function slackMg(line: ReadingLine): number {
  const metric = line.stepMg === undefined || line.stepMg % 10 === 0 || line.stepMg < 10;
  return metric ? 0 : Math.ceil(line.targetMg * 2e-5);
}

/** What to do about too much on the scale; alkali never goes back into its container. */
function adviceOver(line: ReadingLine, by: string): string {
  if (line.kind === 'naoh' || line.kind === 'koh') {
    return `Take ${by} of ${line.name} out with a dry spoon into the spare container; do not go on until the scale reads no more than ${formatMass(line.acceptHighMg)}.`;
  }
  return `Take ${by} of ${line.name} out before you go on.`;
}

/**
 * Judges what the scale showed against the accepted range of a line, both ends included.
 * `byMg` is how far outside the range the reading is, 0 within it. A reading that is not a number
 * is "under" with the whole low limit missing: it must never pass as within. Nor may any reading where the
 * range itself is not known.
 */
export function judgeReading(line: ReadingLine, readingMg: number): { verdict: Verdict; byMg: number; advice: string } {
  if (![line.targetMg, line.acceptLowMg, line.acceptHighMg].every(Number.isFinite)) {
    return { verdict: 'under', byMg: 0, advice: `The accepted range of ${line.name} is not known: do not go on without a new weigh card.` };
  }
  const reading = Number.isFinite(readingMg) ? readingMg : 0;
  const slack = slackMg(line);
  if (reading < line.acceptLowMg - slack || !Number.isFinite(readingMg)) {
    const byMg = line.acceptLowMg - reading;
    return { verdict: 'under', byMg, advice: `Add ${line.name} to ${formatMass(line.targetMg)}: ${formatMass(line.targetMg - reading)} to go.` };
  }
  if (reading > line.acceptHighMg + slack) {
    const byMg = reading - line.acceptHighMg;
    return { verdict: 'over', byMg, advice: adviceOver(line, formatMass(reading - line.targetMg)) };
  }
  return { verdict: 'within', byMg: 0, advice: `${line.name} is within tolerance: ${formatMass(reading)}.` };
}

/**
 * Judges a temperature against a range in C, both ends included; what is not a number is never within.
 * `byC` is how far outside it is, in tenths. Advice is to wait, never to cool with water: water on
 * hot lye spits.
 */
export function judgeTemperature(range: { lowC: number; highC: number }, readingC: number): { verdict: Verdict; byC: number; advice: string } {
  if (!Number.isFinite(readingC)) {
    return { verdict: 'over', byC: 0, advice: 'No temperature was read; measure again.' };
  }
  if (!Number.isFinite(range.lowC) || !Number.isFinite(range.highC)) {
    return { verdict: 'over', byC: 0, advice: 'The range of temperature is not known: wait, and ask for it.' };
  }
  const rounded = (value: number): number => Math.round(value * 10) / 10;
  if (readingC < range.lowC) {
    const byC = rounded(range.lowC - readingC);
    return { verdict: 'under', byC, advice: `${byC} °C below ${range.lowC} °C: warm it gently and measure again.` };
  }
  if (readingC > range.highC) {
    const byC = rounded(readingC - range.highC);
    return { verdict: 'over', byC, advice: `${byC} °C above ${range.highC} °C: wait, and measure again.` };
  }
  return { verdict: 'within', byC: 0, advice: `${rounded(readingC)} °C is within ${range.lowC} to ${range.highC} °C.` };
}
