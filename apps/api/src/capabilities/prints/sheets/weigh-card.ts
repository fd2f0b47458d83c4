import type { CardOut } from '@ashwater/contracts';
import { SUBSTANCE_NAMES } from '@ashwater/contracts';
import { formatMass } from '@ashwater/formulation';
import { boxed, facts, gap, heading, LEFT_MM, paragraph, TICK_MM, widthOf } from './blocks.ts';
import { cardStep } from './card-step.ts';
import type { Block, Section } from './flow.ts';
import type { Pen } from './pen.ts';
import { frameOf } from './stamp.ts';
import type { Head, Stamp } from './stamp.ts';
import { celsius, dayWords, percent, rounded, timeWords } from './words.ts';

/** "Weigh card W-0012, issue 1". */
export const cardName = ({ number, issue }: Pick<CardOut, 'number' | 'issue'>): string => `Weigh card ${number}, issue ${issue}`;
export const recipeName = ({ recipeTitle, recipeVersionNumber }: CardOut['content']): string => `${recipeTitle}, version ${recipeVersionNumber}`;

/** The head of a sheet that belongs to one card. */
export function cardHead(card: CardOut, zone: string, title: string): Head {
  const { content } = card;
  const startsAt = new Date(content.startsAt);
  return {
    title,
    lines: [cardName(card), recipeName(content), `${content.classTitle}, ${timeWords(startsAt, zone)}${content.room ? `, ${content.room}` : ''}`],
    identity: `${cardName(card)}: ${recipeName(content)}`,
    qr: { path: `/join/${card.joinCode}`, says: `Join: ${card.joinCode}` },
    voidAfter: `${dayWords(startsAt, zone)}; a newer issue voids it at once`,
  };
}

const FIRST_AID = (phone: string): string =>
  `Lye on skin or in eyes: running water at once, at least 15 minutes, and call ${phone}. Never vinegar on skin. Follow the supplier's safety data sheet.`;

function numbers(pen: Pen, { content }: CardOut): Block[] {
  const { superfatBandPercent: band } = content;
  const lots = content.lots.map(
    ({ substance, lotNumber, purityPercent }) => `${SUBSTANCE_NAMES[substance]}, lot ${lotNumber}, ${rounded(purityPercent)}\u00a0%`,
  );
  return facts(pen, [
    ['Batch', formatMass(Math.round(content.batchMassMg / 1000) * 1000)],
    ['Mould', `${content.mouldName}, ${content.mouldVolumeMl}\u00a0mL`],
    ['Superfat band', `${rounded(band.low)} to ${percent(band.high)}, aim ${percent(content.superfatAimPercent)}`],
    ['Lye concentration', percent(content.potConcentrationPercent ?? content.lyeConcentrationPercent)],
    ['Peak temperature', `${celsius(Math.round(content.peakTemperatureC))}, ${content.peakKind}`],
    ['Scale step', formatMass(content.scaleStepMg)],
    ...lots.map((lot) => ['Alkali', lot] as const),
  ]);
}

const CHECK = { size: 9 };
const NAME = { bold: true };
/** The gear in two columns of squares to tick; each row stays whole. */
function gearRows(pen: Pen, { content }: CardOut): Block[] {
  const half = (widthOf(pen) - 6) / 2;
  const textX = TICK_MM + 2.5;
  const items = content.gear.map(({ name, check }) => ({ name: pen.wrap(name, half - textX, NAME), check: pen.wrap(check, half - textX, CHECK) }));
  const rows = Array.from({ length: Math.ceil(items.length / 2) }, (_, i) => items.slice(2 * i, 2 * i + 2));
  return rows.map((row) => ({
    heightMm: Math.max(TICK_MM, ...row.map(({ name, check }) => pen.heightMm(name.length, NAME) + pen.heightMm(check.length, CHECK))) + 1.5,
    draw: (y) =>
      row.forEach(({ name, check }, i) => {
        const x = LEFT_MM + i * (half + 6);
        pen.rect(x, y, TICK_MM, TICK_MM, 0.5);
        pen.lines(check, { x: x + textX, y: pen.lines(name, { x: x + textX, y }, NAME) }, CHECK);
      }),
  }));
}
const gear = (pen: Pen, card: CardOut): Block[] => [
  heading(pen, 'Before a lid comes off: gear of everybody at the station'),
  ...gearRows(pen, card),
  paragraph(pen, 'Each wearer and a second person sign on the gear list of this station. The gear stays on through the clean-up.', { size: 9.5 }, { gapMm: 3 }),
];

/** One station's card: its figures, the gear, then every step in its order. */
export function weighCard(pen: Pen, stamp: Stamp, card: CardOut): Section {
  const { content } = card;
  const changed = card.changes.map(({ words, byName, at }) => boxed(pen, 'Changed', `${words} Approved by ${byName}, ${timeWords(new Date(at), stamp.zone)}.`));
  return {
    frame: frameOf(pen, stamp, cardHead(card, stamp.zone, content.stationName)),
    blocks: [
      boxed(pen, 'FIRST AID', FIRST_AID(stamp.emergencyPhone)),
      ...changed,
      ...numbers(pen, card),
      paragraph(pen, content.words, {}, { gapMm: 1 }),
      ...content.warnings.map((warning) => paragraph(pen, `Note: ${warning}`, { size: 9.5 }, { gapMm: 1 })),
      gap(1.5),
      ...gear(pen, card),
      heading(pen, 'Steps: read, do, tick'),
      ...content.steps.map((step) => cardStep(pen, step, content)),
    ],
  };
}
