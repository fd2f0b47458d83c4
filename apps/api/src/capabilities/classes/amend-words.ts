import type { CardContent, CardOut } from '@ashwater/contracts';
import { formatMass } from '@ashwater/formulation';
import type { SetUp } from './set-up.ts';

type Bench = SetUp & { mouldName: string };
const LABELS: [keyof Bench, string, 'mass' | 'ml' | 'text'][] = [
  ['scaleStepMg', 'Scale step', 'mass'],
  ['scaleCapacityMg', 'Scale capacity', 'mass'],
  ['mouldName', 'Mould', 'text'],
  ['mouldVolumeMl', 'Mould volume', 'ml'],
  ['verificationIntervalMg', 'Verification interval', 'mass'],
  ['accuracyClass', 'Accuracy class', 'text'],
  ['lyeScaleStepMg', 'Step of the scale for lye', 'mass'],
  ['lyeScaleCapacityMg', 'Capacity of the scale for lye', 'mass'],
  ['potMaterial', 'Material of the container for lye', 'text'],
  ['potVolumeMl', 'Container for lye', 'ml'],
];
function shown(value: Bench[keyof Bench], as: 'mass' | 'ml' | 'text'): string {
  if (value === null) return 'not known';
  return as === 'mass' ? formatMass(Number(value)) : as === 'ml' ? `${value} mL` : String(value);
}
const now = (what: string, after: string, before: string): string => `${what}: ${after}, before: ${before}`;

/** What a bench has otherwise than before, each in a line. */
export function setUpChanges(before: Bench, after: Bench): string[] {
  return LABELS.flatMap(([key, label, as]) => (before[key] === after[key] ? [] : [now(label, shown(after[key], as), shown(before[key], as))]));
}

type Plan = Pick<CardContent, 'recipeTitle' | 'recipeVersionNumber'> & {
  lots: readonly { substance: string; lotNumber: string }[];
  lines: readonly { key: string; name: string; targetMg: number; stepMg: number }[];
};
const recipe = ({ recipeTitle, recipeVersionNumber }: Plan): string => `${recipeTitle}, version ${recipeVersionNumber}`;
const lots = (plan: Plan): string => plan.lots.map(({ lotNumber }) => lotNumber).join(' and ') || 'none';

/** What the new card has otherwise than the old one: recipe, lots, then every mass that is not the same. */
export function planChanges(before: Plan, after: Plan): string[] {
  const same = <T>(what: string, of: (plan: Plan) => T) => (of(before) === of(after) ? [] : [now(what, String(of(after)), String(of(before)))]);
  const weighed = after.lines.flatMap((line) => {
    const old = before.lines.find((each) => each.key === line.key);
    if (!old) return [`${line.name}: ${formatMass(line.targetMg, line.stepMg)}, new on the card`];
    const [was, is] = [formatMass(old.targetMg, old.stepMg), formatMass(line.targetMg, line.stepMg)];
    return was === is ? [] : [now(line.name, is, was)];
  });
  const gone = before.lines.filter((line) => !after.lines.some((each) => each.key === line.key)).map((line) => `${line.name}: not on the card any more`);
  return [...same('Recipe', recipe), ...same('Lot', lots), ...weighed, ...gone];
}

type Standing = { doneNos: ReadonlySet<number>; readNos: ReadonlySet<number> };
/** Words about what is lost where caustic was weighed or mixed already; null where none was touched. */
export function lostWork(card: CardOut, { doneNos, readNos }: Standing): string | null {
  const touched = card.content.steps.filter((step) => step.caustic && (doneNos.has(step.no) || readNos.has(step.no)));
  if (touched.length === 0) return null;
  const { stationName } = card.content;
  return `${stationName} has caustic at work (step ${touched.map((step) => step.no).join(', ')}). Its readings stay on card ${card.number}, issue ${card.issue}; the new issue begins at step 1 with clean containers. What is weighed or mixed there now belongs to no card: take it from the bench, label it, and account for it in the cabinet.`;
}
