import type { CardContent, CardStep } from '@ashwater/contracts';
import { formatMass } from '@ashwater/formulation';
import { boxed, LEFT_MM, TICK_MM, widthOf } from './blocks.ts';
import type { Block } from './flow.ts';
import type { Pen } from './pen.ts';
import { celsius } from './words.ts';

const TARGET_MM = 62;
const BOX_MM = 11;
const TEXT_X = LEFT_MM + TICK_MM + 3;
const AMOUNT = { size: 25, bold: true };
const TITLE = { size: 12, bold: true };

type Box = { label: string; unit: string };
type Target = { amount: string; lines: string[]; boxes: Box[] };

/** The right-hand side of a step: what the display must show, and where it is written down. */
function targetOf(step: CardStep, stepMg: number): Target | null {
  const { targetMg, acceptLowMg, acceptHighMg, lowC, highC } = step;
  if (step.kind === 'weigh' && targetMg !== null && acceptLowMg !== null && acceptHighMg !== null) {
    const read = { label: 'Reading', unit: 'g' };
    return {
      amount: formatMass(targetMg),
      lines: [`Accept ${formatMass(acceptLowMg)} to ${formatMass(acceptHighMg)}`, `Scale step ${formatMass(stepMg)}`],
      boxes: step.caustic ? [read, { label: 'Second person', unit: 'g' }] : [read],
    };
  }
  if (step.kind === 'temperature' && highC !== null)
    return {
      amount: '',
      lines: [`Expected: at most ${celsius(highC)}${lowC ? `, at least ${celsius(lowC)}` : ''}`],
      boxes: [{ label: 'Reading', unit: '°C' }],
    };
  if (step.kind === 'label')
    return {
      amount: '',
      lines: [],
      boxes: [
        { label: 'In the jar', unit: 'g' },
        { label: 'Jar number', unit: '' },
      ],
    };
  return null;
}

function drawTarget(pen: Pen, target: Target, x: number, y: number): number {
  let at = target.amount ? pen.lines([target.amount], { x, y, width: TARGET_MM }, AMOUNT) : y;
  at = pen.lines(
    target.lines.flatMap((line) => pen.wrap(line, TARGET_MM)),
    { x, y: at },
  );
  for (const { label, unit } of target.boxes) {
    pen.lines([label], { x, y: at + 4 }, { size: 9 });
    pen.rect(x + 24, at + 1, TARGET_MM - 24 - 6, BOX_MM, 0.5);
    pen.lines([unit], { x: x + TARGET_MM - 5, y: at + 4 });
    at += BOX_MM + 1.5;
  }
  return at;
}
const heightOfTarget = (pen: Pen, target: Target): number =>
  (target.amount ? pen.heightMm(1, AMOUNT) : 0) +
  pen.heightMm(target.lines.flatMap((line) => pen.wrap(line, TARGET_MM)).length) +
  target.boxes.length * (BOX_MM + 1.5);

/** What is there because of a note is what last went wrong: it stands out. */
const LESSON = { bold: true };
const SECOND = 'A second person reads the scale and writes it down before looking at the target, then both compare.';

/** One step to read, do and tick, whole on one sheet. `word` is the signal word of its caution. */
export function cardStep(pen: Pen, step: CardStep, content: Pick<CardContent, 'lines' | 'scaleStepMg'>): Block {
  const stepMg = content.lines.find((line) => line.key === step.lineKey)?.stepMg ?? content.scaleStepMg;
  const target = targetOf(step, stepMg);
  const right = LEFT_MM + widthOf(pen) - TARGET_MM;
  const textMm = (target ? right - 4 : LEFT_MM + widthOf(pen)) - TEXT_X;
  const title = pen.wrap(`${step.no}. ${step.title}`, textMm, TITLE);
  const words = pen.wrap(step.instruction, textMm);
  const why = pen.wrap(`Why: ${step.reason}`, textMm, { size: 9.5 });
  const second = step.caustic && step.kind === 'weigh' ? pen.wrap(SECOND, textMm, { size: 9.5 }) : [];
  const because = (step.because ?? []).flatMap(({ words: told, noteNumber }) => pen.wrap(`${told} (since note ${noteNumber})`, textMm, LESSON));
  // Caustic steps can cause lasting harm: WARNING, as ANSI Z535.4 defines the words (from memory).
  const caution = step.caution ? boxed(pen, step.caustic ? 'WARNING' : 'CAUTION', step.caution, { x: TEXT_X, width: textMm, gapMm: 0 }, 9.5) : null;
  const textHeight =
    pen.heightMm(title.length, TITLE) +
    pen.heightMm(words.length) +
    pen.heightMm(because.length, LESSON) +
    pen.heightMm(why.length + second.length, { size: 9.5 }) +
    (caution ? caution.heightMm + 1 : 0);
  const inner = Math.max(textHeight, target ? heightOfTarget(pen, target) : 0, TICK_MM);
  return {
    heightMm: inner + 4,
    draw(y) {
      pen.rect(LEFT_MM, y + 1, TICK_MM, TICK_MM, 0.5);
      let at = pen.lines(title, { x: TEXT_X, y }, TITLE);
      at = pen.lines(words, { x: TEXT_X, y: at });
      at = pen.lines(because, { x: TEXT_X, y: at }, LESSON);
      at = pen.lines([...why, ...second], { x: TEXT_X, y: at }, { size: 9.5 });
      caution?.draw(at + 1);
      if (target) drawTarget(pen, target, right, y);
      pen.line(LEFT_MM, y + inner + 1.5, LEFT_MM + widthOf(pen), y + inner + 1.5);
    },
  };
}
