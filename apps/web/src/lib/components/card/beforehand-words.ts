import type { CardContent } from '@ashwater/contracts';
import { likelyWords, percent } from '../recipe/words.ts';

type Beforehand = Pick<
  CardContent,
  | 'likelySuperfatPercent'
  | 'contributions'
  | 'potConcentrationPercent'
  | 'lyeConcentrationPercent'
  | 'solutionVolumeMl'
  | 'solutionDensityGPerMl'
  | 'iceWords'
  | 'coolingWords'
>;

const POINT = 0.05;

/**
 * What a card prints of its making besides its steps, a sentence each. Only what fits one line on Letter: a card is one
 * page. A card from before it was worked out says nothing.
 */
export function beforehandWords(content: Beforehand): string[] {
  const { likelySuperfatPercent: likely, contributions = [], potConcentrationPercent: pot, solutionVolumeMl, solutionDensityGPerMl } = content;
  const words: string[] = [];
  if (likely)
    words.push(`Likely superfat ${likelyWords(likely)}${contributions[0] ? `; widest: ${contributions[0].replace(/, \d+ % of the variance$/u, '')}` : ''}.`);
  if (pot !== undefined && Math.abs(pot - content.lyeConcentrationPercent) > POINT) words.push(`In the lye pot the concentration is ${percent(pot, 1)}.`);
  if (solutionVolumeMl !== undefined && solutionDensityGPerMl !== undefined)
    words.push(`Solution ${Number(solutionVolumeMl.toPrecision(3))}\u00a0mL at 20\u00a0°C, ${solutionDensityGPerMl.toFixed(2)}\u00a0g/mL.`);
  if (content.iceWords) words.push(content.iceWords);
  if (content.coolingWords?.[0]) words.push(content.coolingWords[0]);
  return words;
}
