import { formatMass } from '@ashwater/formulation';
import type { Counted, Need } from '../pull-list.ts';
import { gap, heading, paragraph } from './blocks.ts';
import { classHead } from './class-sheet.ts';
import type { ClassFacts } from './class-sheet.ts';
import type { Section } from './flow.ts';
import type { Pen } from './pen.ts';
import { frameOf } from './stamp.ts';
import type { Stamp } from './stamp.ts';
import { table, TICK } from './table.ts';
import type { Row } from './table.ts';
import { plural } from './words.ts';

const notes = (...parts: string[]) => parts.filter(Boolean).join('. ');
export type PullList = { needs: readonly Need[]; gloves: Counted; sparePercent: number };

/** What to buy and fetch for a class: the exact sum of its cards, and that with the spare. */
export function pullSheet(pen: Pen, stamp: Stamp, about: ClassFacts, { needs, gloves, sparePercent }: PullList): Section {
  const weighed = needs.map(({ item, lot, massMg, pullMg, stations, note }): Row => [
    TICK,
    { bold: lot ? `${item}, lot ${lot}` : item },
    { bold: formatMass(pullMg) },
    formatMass(massMg),
    notes(plural(stations, 'station'), note),
  ]);
  const counted: Row = [TICK, { bold: gloves.item }, { bold: `${gloves.count}\u00a0${gloves.unit}` }, '', gloves.note];
  return {
    frame: frameOf(pen, stamp, classHead(about, stamp.zone, 'Pull list')),
    blocks: [
      paragraph(
        pen,
        `${sparePercent}\u00a0% spare is in "Fetch", up to the next step of the scale. Vinegar and gloves are common practice, not part of the recipe: ask the supplier's safety data sheet what gloves bear. Alkali comes from the locked cabinet last and goes back first.`,
        {},
        { gapMm: 3 },
      ),
      heading(pen, 'Fetch'),
      ...table(
        pen,
        [
          { title: 'Got', share: 1.3 },
          { title: 'What', share: 5 },
          { title: 'Fetch', share: 2, right: true },
          { title: 'Without spare', share: 2, right: true },
          { title: 'For', share: 4 },
        ],
        [...weighed, counted],
        10,
      ),
      gap(3),
    ],
  };
}
