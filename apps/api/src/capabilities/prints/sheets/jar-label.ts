import type { CardOut, JarOut } from '@ashwater/contracts';
import { formatMass, labelOfSolution } from '@ashwater/formulation';
import type { AlkaliKind } from '@ashwater/formulation';
import type { LabelCell } from './label-grid.ts';
import type { Pen, TextStyle } from './pen.ts';
import { drawQr } from './qr.ts';
import type { Stamp } from './stamp.ts';
import { dayWords, percent, plainDay } from './words.ts';

export type Wording = 'EU' | 'US';
/** What a label says; `null` is left blank, to be written by hand. */
export type JarLabel = {
  contents: string;
  concentration: string;
  signalWord: string;
  /** All, and those that no label goes without. */
  statements: readonly [all: string[], fewest: string[]];
  supplierFirst: string;
  facts: { name: string; value: string | null }[];
  /** Where it comes from, in full and, where that is too long for the label, in short. */
  from: readonly [full: string, short: string];
  qrPath: string;
};

/**
 * The six that tell what to do at once and how to keep it. CLP asks for not more than six on a label unless the hazard needs
 * more (Article 28(3), from memory); the choice is ours, the supplier's label and safety data sheet come first.
 */
const SHOWN = ['P260', 'P280', 'P303+P361+P353', 'P305+P351+P338', 'P310', 'P405', 'P302+P352', 'P337+P313'];
/** Protection and what to do at once: where a small label has room for nothing more. */
const AT_ONCE = ['P280', 'P303+P361+P353', 'P305+P351+P338', 'P310', 'P302+P352'];

const NAMES = { naoh: 'sodium hydroxide', koh: 'potassium hydroxide' } as const;
const alkalisOf = ({ content }: CardOut) => (['naoh', 'koh'] as const).filter((kind) => content.lines.some((line) => line.kind === kind && line.targetMg > 0));
function kindOf(card: CardOut): AlkaliKind {
  const kinds = alkalisOf(card);
  return kinds.length === 2 ? 'dual' : kinds[0] === 'koh' ? 'KOH' : 'NaOH';
}

const LONGEST_STATION = 32;
const shortened = (name: string): string => (name.length > LONGEST_STATION ? `${name.slice(0, LONGEST_STATION)}\u2026` : name);

/** What the pictogram would show stands beside the signal word: a printer without red cannot print its frame (CLP 1.2.1). */
const signalOf = (word: string): string => (word === 'Danger' ? 'Danger: corrosive' : word);

/** The label of the jar a station fills; before it is filled, what only then is known stays blank. */
export function labelOfJar(card: CardOut, jar: JarOut | null, stamp: Stamp, wording: Wording): JarLabel {
  const { content } = card;
  const concentration = jar?.concentrationPercent ?? content.potConcentrationPercent ?? content.lyeConcentrationPercent;
  const hazard = labelOfSolution(kindOf(card), concentration);
  const us = wording === 'US';
  const says = (codes: readonly string[]): string[] => [
    ...(us ? hazard.us.statements : hazard.statements.map(({ text, code }) => `${text} (${code})`)),
    ...hazard.precautions.filter(({ code }) => codes.includes(code)).map((each) => (us ? (each.usText ?? each.text) : each.text)),
  ];
  const origin = `${card.number} issue ${card.issue}, version ${content.recipeVersionNumber}`;
  const printed = dayWords(stamp.printedAt, stamp.zone);
  return {
    contents:
      jar?.contents ??
      `Solution of ${alkalisOf(card)
        .map((kind) => NAMES[kind])
        .join(' and ')}`,
    concentration: `${percent(concentration)} by mass, in water`,
    signalWord: signalOf((us ? hazard.us.signalWord : hazard.signalWord) ?? ''),
    statements: [says(SHOWN), says(AT_ONCE)],
    supplierFirst: hazard.supplierFirst,
    facts: [
      { name: 'Jar', value: jar?.number ?? null },
      { name: 'Mass', value: jar ? formatMass(jar.massMg) : null },
      { name: 'Made on', value: jar ? dayWords(new Date(jar.madeAt), stamp.zone) : null },
      { name: 'Discard after', value: jar ? plainDay(jar.discardOn) : null },
    ],
    from: [
      `${content.stationName}, ${origin}. ${stamp.studioName}, ${stamp.emergencyPhone}. Printed ${printed}.`,
      `${shortened(content.stationName)}, ${origin}. ${stamp.emergencyPhone}. Printed ${printed}.`,
    ],
    qrPath: jar ? `/studio/jars?number=${encodeURIComponent(jar.number)}` : `/join/${card.joinCode}`,
  };
}

const X_HEIGHT = 0.496;
/** Letter size, points, of an x-height in mm. */
const sizeOf = (xHeightMm: number): number => ((xHeightMm / X_HEIGHT) * 72) / 25.4;
/** x-heights in mm, largest first. 1.2 mm is the least that can be read (an example label of the German BAuA, from memory). */
const NAME_X = [4, 3.6, 3.2, 2.8, 2.4] as const;
const TEXT_X = [2, 1.9, 1.8, 1.7, 1.6, 1.5, 1.4, 1.3, 1.2] as const;
const QR_MM = 20;
const FACT_PAD = 1;
/** Least height of a line to write on by hand. */
const WRITE_MM = 6;

type Piece = { lines: string[]; style: TextStyle };
type Laid = { top: Piece[]; body: Piece[]; across: number; factMm: number; facts: TextStyle; heightMm: number };

/** The size at which every fact and its name stand side by side in their half of the label. */
function factSize(pen: Pen, { facts }: JarLabel, widthMm: number, textX: number): number {
  const size = sizeOf(textX);
  const widest = Math.max(...facts.map(({ name, value }) => pen.widthMm(`${name}  `, { size }) + pen.widthMm(value ?? '', { size, bold: true })));
  return Math.min(size, (size * widthMm) / widest);
}

type Sizes = { nameX: number; textX: number };
type Words = { statements: readonly string[]; from: string };
function layOut(pen: Pen, label: JarLabel, { statements, from }: Words, area: LabelCell, { nameX, textX }: Sizes): Laid {
  const piece = (text: string, width: number, style: TextStyle): Piece => ({ lines: pen.wrap(text, width, style), style });
  const text = { size: sizeOf(textX), leading: 1.16 };
  const beside = area.width - QR_MM - 2;
  const top = [
    piece(label.contents, beside, { size: sizeOf(nameX), bold: true, leading: 1.1 }),
    piece(label.concentration, beside, text),
    ...(label.signalWord ? [piece(label.signalWord, beside, { size: sizeOf(Math.min(nameX, 3)), bold: true, leading: 1.2 })] : []),
  ];
  const body = [piece(statements.join(' '), area.width, text), piece(label.supplierFirst, area.width, text), piece(from, area.width, text)];
  const high = (pieces: Piece[]) => pieces.reduce((sum, { lines, style }) => sum + pen.heightMm(lines.length, style), 0);
  // An upright label has room for one fact a line, in larger letters.
  const across = area.height > area.width ? 1 : 2;
  const facts = { size: factSize(pen, label, area.width / across - 2 * FACT_PAD, textX), bold: true, leading: 1.2 };
  const factMm = Math.max(pen.heightMm(1, facts) + 1.2, WRITE_MM);
  return { top, body, across, factMm, facts, heightMm: Math.max(high(top), QR_MM) + high(body) + (label.facts.length / across) * factMm + 2.5 };
}

/** The largest lettering that the label holds. Throws when even the smallest is too large: a name longer than any we let in. */
function fit(pen: Pen, label: JarLabel, area: LabelCell): Laid {
  const [all, fewest] = label.statements;
  const [full, short] = label.from;
  const wordings = [
    { statements: all, from: full },
    { statements: all, from: short },
    { statements: fewest, from: short },
  ];
  for (const words of wordings)
    for (const textX of TEXT_X)
      for (const nameX of NAME_X) {
        const laid = layOut(pen, label, words, area, { nameX, textX });
        if (laid.heightMm <= area.height) return laid;
      }
  throw new Error(`the label of ${label.from[0]} does not fit on ${area.width.toFixed(0)} x ${area.height.toFixed(0)} mm`);
}

const drawPieces = (pen: Pen, pieces: Piece[], x: number, y: number): number =>
  pieces.reduce((at, { lines, style }) => pen.lines(lines, { x, y: at }, style), y);

/** Draws the label inside its area: name and signal word on top, what to do, then the facts in a grid. */
export function drawJarLabel(pen: Pen, label: JarLabel, area: LabelCell, origin: string): void {
  const laid = fit(pen, label, area);
  const below = Math.max(drawPieces(pen, laid.top, area.x, area.y), area.y + QR_MM);
  drawQr(pen, origin + label.qrPath, { x: area.x + area.width - QR_MM, y: area.y, sizeMm: QR_MM });
  const width = area.width / laid.across;
  const grid = below + 0.5;
  label.facts.forEach(({ name, value }, i) => {
    const [x, y] = [area.x + (i % laid.across) * width, grid + Math.floor(i / laid.across) * laid.factMm];
    const textY = y + (laid.factMm - pen.heightMm(1, laid.facts)) / 2;
    pen.rect(x, y, width, laid.factMm);
    const plain = { ...laid.facts, bold: false };
    pen.lines([name], { x: x + FACT_PAD, y: textY }, plain);
    if (value) pen.lines([value], { x: x + width - FACT_PAD - pen.widthMm(value, laid.facts), y: textY }, laid.facts);
  });
  drawPieces(pen, laid.body, area.x, grid + (label.facts.length / laid.across) * laid.factMm + 1);
}
