import { SUBSTANCE_NAMES } from '@ashwater/contracts';
import type { Substance } from '@ashwater/contracts';
import { formatMass } from '@ashwater/formulation';
import { gap, heading, paragraph } from './blocks.ts';
import type { Block, Section } from './flow.ts';
import type { Pen } from './pen.ts';
import { frameOf } from './stamp.ts';
import type { Stamp } from './stamp.ts';
import { table } from './table.ts';
import type { Row } from './table.ts';

export type Shelved = { label: string; substance: Substance; lotNumber: string; tareMg: number };

const byLot = (a: string, b: string) => a.localeCompare(b, 'en', { numeric: true });

function lotTable(pen: Pen, lot: string, containers: readonly Shelved[]): Block[] {
  const rows = containers.map(({ label, tareMg }): Row => [{ bold: label }, formatMass(tareMg), null, null, null]);
  return [
    heading(pen, lot),
    ...table(
      pen,
      [
        { title: 'Container', share: 4 },
        { title: 'Empty weighs', share: 2, right: true },
        { title: 'Shows on the scale, g', share: 3.4 },
        { title: 'Lid closed, label readable', share: 2.6 },
        { title: 'Remark', share: 3.4 },
      ],
      rows,
      11,
    ),
    gap(4),
  ];
}

/** The sheet of a count: what to weigh, lot by lot. The book's figures are left out, so that nobody counts towards them. */
export function cabinetSheet(pen: Pen, stamp: Stamp, containers: readonly Shelved[]): Section {
  const lots = Map.groupBy(containers, ({ substance, lotNumber }) => `${SUBSTANCE_NAMES[substance]}, lot ${lotNumber}`);
  return {
    frame: frameOf(pen, stamp, {
      title: 'Cabinet sheet',
      lines: ['A blind count: weigh every container closed, as it stands, and write what the scale shows. The book\u2019s figures are left out on purpose.'],
      identity: `Cabinet sheet: ${containers.length === 1 ? '1 container' : `${containers.length} containers`}, ${lots.size === 1 ? '1 lot' : `${lots.size} lots`}`,
      qr: { path: '/studio/cabinet', says: 'Cabinet, staff only' },
    }),
    blocks: [
      ...table(
        pen,
        ['Counted by', 'Second person', 'Counted at', 'Scale step, g'].map((title) => ({ title, share: 1 })),
        [[null, null, null, null]],
        11,
      ),
      gap(4),
      ...(containers.length === 0 ? [paragraph(pen, 'No container is in the cabinet.')] : []),
      ...[...lots]
        .sort(([a], [b]) => byLot(a, b))
        .flatMap(([lot, here]) =>
          lotTable(
            pen,
            lot,
            here.toSorted((a, b) => byLot(a.label, b.label)),
          ),
        ),
    ],
  };
}
