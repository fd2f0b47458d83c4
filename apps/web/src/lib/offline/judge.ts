import type { CardContent, CardStep, ReadingOut } from '@ashwater/contracts';
import { judgeReading, judgeTemperature, parseDecimal, parseMass } from '@ashwater/formulation';

type Judged = Pick<ReadingOut, 'massMg' | 'temperatureC' | 'verdict' | 'offBy' | 'advice'>;

/** What a typed number means on a step: the verdict the service will give, since both ask the same functions. */
export function judgeEntered(step: CardStep, content: CardContent, entered: string): { ok: true; value: Judged } | { ok: false; detail: string } {
  const line = content.lines.find((each) => each.key === step.lineKey);
  if (step.kind === 'weigh' && line) {
    const mass = parseMass(entered);
    if (!mass.ok) return { ok: false, detail: mass.problems[0]?.detail ?? '' };
    // A change of the card may have put a step in whose target is not the line's.
    const asked = {
      ...line,
      targetMg: step.targetMg ?? line.targetMg,
      acceptLowMg: step.acceptLowMg ?? line.acceptLowMg,
      acceptHighMg: step.acceptHighMg ?? line.acceptHighMg,
    };
    const { verdict, byMg, advice } = judgeReading(asked, mass.value.massMg);
    return { ok: true, value: { massMg: mass.value.massMg, temperatureC: null, verdict, offBy: Math.round(byMg), advice } };
  }
  if (step.kind === 'temperature' && step.lowC !== null && step.highC !== null) {
    const read = parseDecimal(entered.replace(/\s*°?\s*C\s*$/i, ''), { name: 'The temperature', min: -30, max: 200, maxDecimals: 1 });
    if (!read.ok) return { ok: false, detail: read.problems[0]?.detail ?? '' };
    const { verdict, byC, advice } = judgeTemperature({ lowC: step.lowC, highC: step.highC }, read.value.value);
    const told = verdict === 'over' ? `${advice} Call your instructor: the card expected less.` : advice;
    return { ok: true, value: { massMg: null, temperatureC: read.value.value, verdict, offBy: Math.round(byC * 1000), advice: told } };
  }
  return { ok: false, detail: 'This step takes no reading.' };
}
