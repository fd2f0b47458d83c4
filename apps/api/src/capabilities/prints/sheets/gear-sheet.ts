import type { CardOut } from '@ashwater/contracts';
import { gap, LEFT_MM, paragraph, TICK_MM, widthOf } from './blocks.ts';
import type { Block, Section } from './flow.ts';
import type { Pen } from './pen.ts';
import { frameOf } from './stamp.ts';
import type { Stamp } from './stamp.ts';
import { table, TICK } from './table.ts';
import type { Row } from './table.ts';
import { cardHead } from './weigh-card.ts';

/** So many wearers fit beside the items; more get a sheet of their own. */
const WEARERS = 3;
const SIGN_MM = 13;

/** Names in groups of so many, filled up with blanks to write a name in; at least one group. */
function groups(names: readonly string[]): (string | null)[][] {
  const count = Math.max(1, Math.ceil(names.length / WEARERS));
  return Array.from({ length: count }, (_, g) => Array.from({ length: WEARERS }, (_each, i) => names[g * WEARERS + i] ?? null));
}

/** Where the two sign: nobody signs their own gear. */
function signatures(pen: Pen): Block[] {
  const columns = [{ title: 'Sign here', share: 7 }, ...Array.from({ length: WEARERS }, (_, i) => ({ title: `Wearer ${i + 1}`, share: 3 }))];
  const blank = Array.from({ length: WEARERS }, () => null);
  const rows: Row[] = [
    ['Wearer: I put on each item and ticked it myself', ...blank],
    ['Second person, never the wearer: I looked at each item. Name and signature', ...blank],
    ['Signed at (time)', ...blank],
    ['Lapsed at, and signed again at', ...blank],
  ];
  return table(pen, columns, rows, SIGN_MM);
}

/** The gear list of a station: every item ticked by its wearer, then looked at and signed by another person. */
export function gearSheets(pen: Pen, stamp: Stamp, card: CardOut, names: readonly string[], gearMinutes: number): Section[] {
  return groups(names).map((wearers) => {
    const columns = [{ title: 'Item', share: 2.8 }, { title: 'Look at', share: 4.2 }, ...wearers.map((_, i) => ({ title: `Wearer ${i + 1}`, share: 3 }))];
    const nameRow: Row = [{ bold: 'Name' }, '', ...wearers.map((name) => (name ? { bold: name } : null))];
    const items: Row[] = card.content.gear.map(({ name, check }) => [{ bold: name }, check, ...wearers.map(() => TICK)]);
    return {
      frame: frameOf(pen, stamp, cardHead(card, stamp.zone, `Gear list, ${card.content.stationName}`)),
      blocks: [
        paragraph(
          pen,
          `Before a lid comes off. Each wearer puts on one item, looks, and ticks it; then a second person looks at all of them and signs. A sign-off lapses after ${gearMinutes} minutes, after a break, and when somebody leaves the room: sign again.`,
          {},
          { gapMm: 3 },
        ),
        ...table(pen, columns, [nameRow, ...items], 9),
        gap(4),
        ...signatures(pen),
        gap(3),
        visitors(pen),
      ],
    };
  });
}

/** Whoever comes near an open container needs the same gear. */
function visitors(pen: Pen): Block {
  const text = pen.wrap('A visitor is near an open container: same gear, and a second person looked.', widthOf(pen) - TICK_MM - 3);
  return {
    heightMm: TICK_MM + 2,
    draw(y) {
      pen.rect(LEFT_MM, y, TICK_MM, TICK_MM, 0.5);
      pen.lines(text, { x: LEFT_MM + TICK_MM + 3, y: y + 1 });
    },
  };
}
