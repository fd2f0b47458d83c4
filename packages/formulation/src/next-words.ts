import { figure } from './check-number.ts';
import type { Interval } from './outcome.ts';
import { formatMass } from './quantity.ts';
import type { PlanLine } from './weigh-line.ts';

/**
 * A line of the next act. The target and its range are what the scale must read for the whole line in
 * its cup, or for the addition alone when `of` is 'addition'. `changeMg` is what goes in, or comes out
 * when it is negative.
 */
export type NextLine = PlanLine & { does: 'weigh' | 'new target' | 'add' | 'take out'; of: 'whole' | 'addition'; changeMg: number };

function sentence(line: NextLine): string {
  const target = formatMass(line.targetMg, line.stepMg);
  const change = formatMass(Math.abs(line.changeMg), line.stepMg);
  if (line.does === 'take out') return `Take ${change} of ${line.name} out with a dry spoon into the spare container, until the scale reads ${target}.`;
  if (line.does === 'new target') {
    return line.targetMg === 0 ? `Leave out ${line.name}: the fats need no more alkali.` : `New target for ${line.name}: ${target}.`;
  }
  if (line.of === 'whole') return `Add ${change} of ${line.name}, until the scale reads ${target}.`;
  return `Weigh ${target} of ${line.name} by itself and add it.`;
}

/**
 * What to do, line by line, then the band and the concentration it leads to. The band is said with
 * one decimal, outward, so that it never looks better than it is.
 */
export function wordsFor(lines: readonly NextLine[], band: Interval, lyeConcentrationPercent: number): string {
  const changed = lines.filter((line) => line.does !== 'weigh').map(sentence);
  const first = changed.length > 0 ? changed.join(' ') : 'Go on as planned.';
  const low = figure(Math.floor(band.low * 10) / 10, 1);
  const high = figure(Math.ceil(band.high * 10) / 10, 1);
  return `${first} The superfat then lies between ${low} and ${high} %, the lye concentration is ${figure(lyeConcentrationPercent, 1)} %.`;
}
