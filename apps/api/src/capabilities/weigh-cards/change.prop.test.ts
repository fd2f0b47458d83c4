import type { CardStep } from '@ashwater/contracts';
import { fatByKey } from '@ashwater/formulation';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { soundDraft } from '../../testing/drafts.ts';
import { cardContent } from './content.ts';
import type { CardNow } from './change.ts';
import { effectiveContent, judgeMass } from './effective.ts';
import type { CardChange } from './effective.ts';
import { planStation, purityOf, scalesOf } from './plan-station.ts';
import type { StationSetUp } from './plan-station.ts';
import { propose } from './proposal.ts';
import type { CardBasis } from './proposal.ts';

const FLOOR = 0.5;
const STATION: StationSetUp = { name: 'Station 1', scaleStepMg: 1000, scaleCapacityMg: 5_000_000, mouldName: 'Loaf', mouldVolumeMl: 1500 };
const LOTS = (['NaOH', 'KOH'] as const).map((substance) => ({ substance, lotNumber: 'L', purityPercent: 99, purityUncertaintyPercent: 0.5 }));
const FRAME = { recipeTitle: 'R', recipeVersionNumber: 1, classTitle: 'C', startsAt: '2026-01-01T10:00:00Z', room: '' };

function cardOf(olivePercent: number, kohSharePercent: number) {
  const fats = [
    { fatKey: 'olive', sharePercent: String(olivePercent) },
    { fatKey: 'coconut', sharePercent: String(100 - olivePercent) },
  ];
  const draft = soundDraft({
    fats: fats.filter((fat) => fat.sharePercent !== '0'),
    kohSharePercent: String(kohSharePercent),
    superfatPercent: '9',
    superfatFloorPercent: String(FLOOR),
  });
  const planned = planStation(draft, LOTS, STATION);
  if (!planned.ok) throw new Error(JSON.stringify(planned.problems));
  const basis: CardBasis = { recipe: planned.value.recipe, purity: purityOf(LOTS), ...scalesOf(STATION) };
  return { issued: cardContent(planned.value, STATION, FRAME, LOTS, []), basis };
}

/** What a student does at a step that weighs: how far off it goes, in thousandths of the target, and whether it is in the pot. */
type Stray = { perMille: number; mixed: boolean };
type Worked = { now: CardNow; ended: 'finished' | 'discarded' };

/** Plays a card to its end; every reading off target is met by what the package proposes, approved as it is. */
function play(olivePercent: number, strays: readonly Stray[], kohSharePercent = 0): Worked {
  const { issued, basis } = cardOf(olivePercent, kohSharePercent);
  const changes: CardChange[] = [];
  const doneNos = new Set<number>();
  const readings = new Map<number, { id: string; massMg: number }>();
  const left = [...strays];
  for (let turns = 0; turns < 200; turns += 1) {
    const content = effectiveContent(issued, changes);
    const now: CardNow = { content, issued, changes, doneNos, readings };
    const step = content.steps.find((each) => !doneNos.has(each.no));
    if (!step) return { now, ended: changes.some((change) => change.act === 'discard') ? 'discarded' : 'finished' };
    if (step.kind !== 'weigh') {
      doneNos.add(step.no);
      continue;
    }
    const stray = left.shift();
    const target = step.targetMg ?? 0;
    const offMg = stray ? Math.round((target * stray.perMille) / 1_000_000) * 1000 : 0;
    readings.set(step.no, { id: `${turns}`, massMg: Math.max(0, target + offMg) });
    const verdict = judgeMass(content, step, Math.max(0, target + offMg))?.verdict;
    if (verdict === 'within') {
      doneNos.add(step.no);
      continue;
    }
    const found = propose(now, basis, { stepNo: step.no, mixed: stray?.mixed ?? true }, verdict);
    changes.push({ id: `c${turns}`, stepNo: step.no, act: found.act, words: found.words, content: found.content, at: '', byName: '' });
    const after = effectiveContent(issued, changes);
    const taken = after.steps.find((each) => each.no === step.no);
    if (taken && judgeMass(after, taken, target + offMg)?.verdict === 'within') doneNos.add(step.no);
  }
  throw new Error('the card never ended');
}

/** Every reading of a line that is in the batch: the last weighing of the whole line, and what was added to it. */
function readingsOf(now: CardNow, lineKey: string): number[] {
  let made: number[] = [];
  for (const step of now.content.steps) {
    const reading = step.lineKey === lineKey ? now.readings.get(step.no) : undefined;
    if (reading) made = step.weighs === 'again' ? [reading.massMg] : [...made, reading.massMg];
  }
  return made;
}

// OIML R 76-1, Table 6 and 3.5.2, class III in service with e = d = 1 g, and half a step of the display.
const limitMg = (massMg: number): number => (massMg <= 500_000 ? 1000 : massMg <= 2_000_000 ? 2000 : 3000) + 500;

/** Worst superfat of what was really weighed, worked out here once more: mg of KOH needed at least, mg of KOH there at most. */
function worstSuperfat(now: CardNow): number {
  const needMg = ['olive', 'coconut'].reduce((sum, key) => {
    const low = readingsOf(now, `fat:${key}`).reduce((total, massMg) => total + Math.max(0, massMg - limitMg(massMg)), 0);
    return sum + (low / 1000) * (fatByKey(key)?.saponificationValue.low ?? 0);
  }, 0);
  const most = readingsOf(now, 'naoh').reduce((total, massMg) => total + massMg + limitMg(massMg), 0);
  // IUPAC molar masses: KOH 56.105, NaOH 39.997 g/mol.
  return 100 * (1 - (most * 0.995 * 56.105) / 39.997 / needMg);
}

const strays = fc.array(
  fc.record({
    perMille: fc.oneof(fc.constant(0), fc.integer({ min: -60, max: 120 }), fc.integer({ min: -800, max: 900 }), fc.integer({ min: 900, max: 4000 })),
    mixed: fc.boolean(),
  }),
  { maxLength: 12 },
);
const runs = { numRuns: 300 };

test('whatever is weighed and approved, a card that is finished holds no free alkali in the worst case, and one that is not is discarded', () => {
  const seen = { finished: 0, discarded: 0, changed: 0 };
  fc.assert(
    fc.property(fc.integer({ min: 40, max: 100 }), strays, (olivePercent, made) => {
      const { now, ended } = play(olivePercent, made);
      seen[ended] += 1;
      if (now.changes.length > 0 && ended === 'finished') seen.changed += 1;
      if (ended === 'finished') expect(worstSuperfat(now)).toBeGreaterThanOrEqual(FLOOR - 1e-6);
    }),
    runs,
  );
  // Said so that a rule that discards everything, or changes nothing, could not pass.
  expect(Math.min(seen.finished, seen.discarded, seen.changed), JSON.stringify(seen)).toBeGreaterThan(5);
});

test('a step that a change puts in is caustic when it weighs lye; numbers are never used twice; a discarded card weighs nothing more', () => {
  let lyeSteps = 0;
  fc.assert(
    fc.property(fc.integer({ min: 40, max: 100 }), strays, (olivePercent, made) => {
      // Both alkalis: the one still in its cup gets a new target when the other strayed.
      const { now, ended } = play(olivePercent, made, 50);
      const added: CardStep[] = now.changes.flatMap((change) => change.content.steps);
      for (const step of added) {
        if (step.lineKey !== 'naoh' && step.lineKey !== 'koh') continue;
        lyeSteps += 1;
        expect(step.caustic).toBe(true);
      }
      const numbers = [...now.issued.steps, ...added].map((step) => step.no);
      expect(new Set(numbers).size).toBe(numbers.length);
      if (ended !== 'discarded') return;
      const last = now.changes.at(-1);
      expect(last?.act).toBe('discard');
      const after = now.content.steps.slice(now.content.steps.findIndex((step) => step.no === last?.content.steps[0]?.no) + 1);
      expect(new Set(after.map((step) => step.kind))).toEqual(new Set(['clean']));
    }),
    runs,
  );
  expect(lyeSteps).toBeGreaterThan(0);
});
