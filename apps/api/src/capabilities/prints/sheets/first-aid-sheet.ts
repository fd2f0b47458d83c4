import type { CardOut } from '@ashwater/contracts';
import { boxed, gap, heading, paragraph } from './blocks.ts';
import { classHead } from './class-sheet.ts';
import type { ClassFacts } from './class-sheet.ts';
import type { Block, Section } from './flow.ts';
import type { Pen } from './pen.ts';
import { frameOf } from './stamp.ts';
import type { Stamp } from './stamp.ts';
import { celsius, percent } from './words.ts';

/** What is known of a lot's safety data sheet. */
export type DataSheet = { substance: string; lotNumber: string; link: string; revisedOn: string | null };

const BIG = { size: 14 };
// Common practice, no source: the supplier's safety data sheet comes first, and the sheet says so.
const STEPS = (phone: string): string[] => [
  'Skin or eyes: running water at once, for at least 15 minutes. Hold the eye open and let the water run across it.',
  'Take off clothing and jewellery that got wet, while the water runs.',
  `Call ${phone}. Do not wait for pain: lye burns deep before it hurts.`,
  'Swallowed: rinse the mouth with water. Do not make the person vomit. Call at once.',
  'Breathed in: out to fresh air, sit upright. Call at once if breathing hurts.',
  "Show the supplier's safety data sheet to whoever helps. What it says comes before this sheet.",
];
const CAUTIONS: string[] = [
  'Lye goes into the liquid, slowly, stirring. Never the liquid into lye.',
  'Goggles, gloves, long sleeves and closed shoes for everybody near an open container, through the clean-up.',
  'Ventilation on. No children, animals or visitors without gear near the bench.',
  'Stainless steel, polypropylene or HDPE. No glass, no wood, never aluminium.',
  'A spill: everybody back, the instructor wipes it up with much water. Vinegar only on the wiped surface.',
  'Every jar is closed and labelled; dry caustic and solution are locked up.',
  'Anyone may stop the room, for any reason.',
];

const numbered = (pen: Pen, texts: readonly string[]): Block[] => texts.map((text, i) => paragraph(pen, `${i + 1}. ${text}`, BIG, { gapMm: 2.5 }));

/** What this class makes, how caustic it is, and the hottest it becomes at any station; one line for each different solution. */
function solutions(pen: Pen, cards: readonly CardOut[]): Block[] {
  const alike = Map.groupBy(cards, ({ content: { potConcentrationPercent, lyeConcentrationPercent, hazard } }) => {
    const statements = hazard.statements.map(({ text }) => text).join(' ');
    return [percent(potConcentrationPercent ?? lyeConcentrationPercent), `${hazard.signalWord}: ${statements}`].join('|');
  });
  return [...alike].map(([key, here]) => {
    const [concentration, hazard] = key.split('|');
    const { content } = here.reduce((hottest, card) => (card.content.peakTemperatureC > hottest.content.peakTemperatureC ? card : hottest));
    const text = `Solution of ${concentration}, up to about ${celsius(Math.round(content.peakTemperatureC))} (${content.peakKind}). ${hazard}`;
    return paragraph(pen, text, { size: 11 });
  });
}

/** For the wall beside the wash basin: first aid on top and largest, then the cautions. */
export function firstAidSheet(pen: Pen, stamp: Stamp, about: ClassFacts, cards: readonly CardOut[], sheets: readonly DataSheet[]): Section {
  return {
    frame: frameOf(pen, stamp, classHead(about, stamp.zone, 'First aid and cautions')),
    blocks: [
      paragraph(pen, `Emergency call: ${stamp.emergencyPhone}`, { size: 24, bold: true }, { gapMm: 2 }),
      ...numbered(pen, STEPS(stamp.emergencyPhone)),
      boxed(pen, 'NEVER', 'vinegar on skin or in eyes. Skin gets water, and only water. Vinegar is for wiped surfaces.', {}, 14),
      gap(2),
      heading(pen, 'Cautions'),
      ...CAUTIONS.map((text) => paragraph(pen, text, { size: 11 }, { gapMm: 1.2 })),
      gap(2),
      ...(cards.length > 0 ? [heading(pen, 'In this class'), ...solutions(pen, cards), gap(2)] : []),
      heading(pen, 'Safety data sheets'),
      ...(sheets.length > 0
        ? sheets.map(({ substance, lotNumber, link, revisedOn }) =>
            paragraph(pen, `${substance}, lot ${lotNumber}: ${link}${revisedOn ? `, revised ${revisedOn}` : ''}`, { size: 10 }),
          )
        : [paragraph(pen, "Keep the supplier's safety data sheet of each lot beside this sheet.")]),
    ],
  };
}
