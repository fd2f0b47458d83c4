import type { ContainerOut, LabelSheetKey, LotOut } from '@ashwater/contracts';
import { expect, test, vi } from 'vitest';
import { STAMP } from '../../../testing/print-samples.ts';
import { outside, overlaps, readPdf, readQr } from '../../../testing/read-pdf.ts';
import { printFile } from '../print-file.ts';
import { labelOfContainer } from './container-label.ts';
import { cellAt, GRIDS, textArea } from './label-grid.ts';
import type { LabelGrid } from './label-grid.ts';
import { setLabels } from './label-sheet.ts';

// A PDF is made and read again in each test.
vi.setConfig({ testTimeout: 30_000 });

const NOWHERE = { xMm: 0, yMm: 0 };
const container = (label: string): ContainerOut => ({
  id: '0192f000-0000-7000-8000-000000000001',
  label,
  lotId: '0192f000-0000-7000-8000-000000000002',
  lotNumber: 'L-7',
  substance: 'KOH',
  tareMg: 251_000,
  receivedMg: 1_000_000,
  balanceMg: 1_000_000,
  outMg: 0,
  state: 'closed',
  place: '',
  inHands: false,
});
const lot = (more: Partial<LotOut> = {}): LotOut => ({
  id: '0192f000-0000-7000-8000-000000000002',
  substance: 'KOH',
  supplier: 'Harbour Chemicals',
  lotNumber: 'L-7',
  product: '',
  grade: '',
  purityPercent: 90.4,
  purityUncertaintyPercent: 0.5,
  assayIs: 'hydroxide',
  carbonatePercent: null,
  waterPercent: null,
  hydroxidePercent: { low: 89.9, high: 90.9 },
  sdsLink: '',
  sdsFileId: null,
  sdsRevisedOn: null,
  sheet: { stand: 'date unknown', words: '' },
  bestBefore: '2029-06-30',
  expiry: { stand: 'in date', words: '' },
  priceMinor: null,
  freightMinor: null,
  leadDays: null,
  papersDisagree: '',
  receivedAt: '2026-12-01T09:00:00Z',
  balanceMg: 1_000_000,
  containers: [],
  ...more,
});
const print = async (label: ReturnType<typeof labelOfContainer>, grid: LabelGrid) => {
  const made = await printFile({ paper: grid.paper, title: 'Labels', at: STAMP.printedAt }, (pen) =>
    setLabels(pen, [label], { grid, offset: NOWHERE, start: 1 }, STAMP.origin),
  );
  return (await readPdf(made.bytes))[0]!;
};
const words = (page: Awaited<ReturnType<typeof print>>): string =>
  page.items
    .map(({ text }) => text)
    .join(' ')
    .replace(/\s+/g, ' ');

test.each(Object.keys(GRIDS) as LabelSheetKey[])('%s: what is in it, what it does, what it weighs empty, and where to read more', async (key) => {
  const grid: LabelGrid = GRIDS[key];
  const us = grid.paper === 'letter';
  const page = await print(labelOfContainer(lot(), container('K-1'), STAMP, us ? 'US' : 'EU'), grid);
  const said = words(page);
  for (const wanted of [
    'K-1: Potassium hydroxide, dry',
    '90.4 % ± 0.5 %',
    'Danger: corrosive',
    'Harmful if swallowed',
    'L-7',
    '251 g',
    '2029',
    'safety data sheet comes first',
  ])
    expect(said, wanted).toContain(wanted);
  expect(said.includes('H314')).toBe(!us);
  expect(overlaps(page)).toEqual([]);
});

test.each(Object.keys(GRIDS) as LabelSheetKey[])('%s: the longest names still fit, and the code leads to the container', async (key) => {
  const grid: LabelGrid = GRIDS[key];
  const longest = lot({ supplier: 'W'.repeat(80), lotNumber: 'W'.repeat(80), purityPercent: 99.999, purityUncertaintyPercent: 0.001 });
  const page = await print(
    labelOfContainer(longest, container('Window shelf '.repeat(6)), { ...STAMP, studioName: 'W'.repeat(80) }, grid.paper === 'letter' ? 'US' : 'EU'),
    grid,
  );
  expect(overlaps(page)).toEqual([]);
  expect(outside(page, 5)).toEqual([]);
  const area = textArea(grid, cellAt(grid, 0, NOWHERE));
  const code = readQr(page, { x: area.x + area.width - 20, y: area.y, sizeMm: 20 });
  expect(code).toBe('https://studio.example.org/studio/cabinet/bottles/0192f000-0000-7000-8000-000000000001');
});
