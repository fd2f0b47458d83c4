import type { LabelSheetKey } from '@ashwater/contracts';
import { expect, test, vi } from 'vitest';
import { longCard, sampleCard, sampleJar, STAMP } from '../../../testing/print-samples.ts';
import { outside, overlaps, readQr, readPdf } from '../../../testing/read-pdf.ts';
import { printFile } from '../print-file.ts';
import { calibrationSheet } from './calibration-sheet.ts';
import { labelOfJar } from './jar-label.ts';
import type { JarLabel } from './jar-label.ts';
import { cellsOf, GRIDS } from './label-grid.ts';
import type { LabelGrid } from './label-grid.ts';
import { setLabels } from './label-sheet.ts';

// A PDF is made and read again in each test: quick alone, slow on a machine that runs everything at once.
vi.setConfig({ testTimeout: 30_000 });

const KEYS = Object.keys(GRIDS) as LabelSheetKey[];
const NOWHERE = { xMm: 0, yMm: 0 };
const jarLabel = (n = 1) => labelOfJar(sampleCard({ n }), sampleJar(), STAMP, 'EU');
/** The most there can be on a label: both alkalis, and every name as long as we let it be. */
const fullest = (wording: 'EU' | 'US') => {
  const { content, ...card } = longCard();
  const koh = { ...content.lines.find(({ kind }) => kind === 'naoh')!, key: 'koh', kind: 'koh' as const };
  const named = { ...STAMP, studioName: 'W'.repeat(80), emergencyPhone: '+351 21 000 00 00, then the studio office' };
  return labelOfJar(
    { ...card, content: { ...content, stationName: 'Window bench '.repeat(6), lines: [...content.lines, koh] } },
    sampleJar({ contents: 'Solution of sodium hydroxide and potassium hydroxide' }),
    named,
    wording,
  );
};
const print = async (labels: JarLabel[], grid: LabelGrid, { start = 1, offset = NOWHERE } = {}) =>
  readPdf(
    (await printFile({ paper: grid.paper, title: 'Labels', at: STAMP.printedAt }, (pen) => setLabels(pen, labels, { grid, offset, start }, STAMP.origin)))
      .bytes,
  );

test.each(KEYS)('%s: labels lie on the sheet, none over another, none smaller than 52 x 74 mm', (key) => {
  const grid: LabelGrid = GRIDS[key];
  // CLP Annex I, table 1.3: up to 3 L at least 52 x 74 mm.
  expect(Math.min(grid.widthMm, grid.heightMm)).toBeGreaterThanOrEqual(52);
  expect(Math.max(grid.widthMm, grid.heightMm)).toBeGreaterThanOrEqual(74);
  expect(grid.pitchXMm).toBeGreaterThanOrEqual(grid.widthMm);
  expect(grid.pitchYMm).toBeGreaterThanOrEqual(grid.heightMm);
  const [width, height] = grid.paper === 'a4' ? [210, 297] : [215.9, 279.4];
  // The same rim left and right, above and below, within a tenth of a millimetre.
  expect(Math.abs(width - 2 * grid.leftMm - (grid.across - 1) * grid.pitchXMm - grid.widthMm)).toBeLessThan(0.1);
  expect(Math.abs(height - 2 * grid.topMm - (grid.down - 1) * grid.pitchYMm - grid.heightMm)).toBeLessThan(0.1);
});

test.each(KEYS)('%s: a full sheet keeps every text 2 mm inside its label and nothing overlaps', async (key) => {
  const grid: LabelGrid = GRIDS[key];
  const wording = grid.paper === 'letter' ? 'US' : 'EU';
  const labels = Array.from({ length: cellsOf(grid) + 1 }, (_, i) =>
    i === 0 ? fullest(wording) : labelOfJar(sampleCard({ n: i }), i % 2 ? null : sampleJar({ number: `J-${i}` }), STAMP, wording),
  );
  const pages = await print(labels, grid);
  expect(pages).toHaveLength(2);
  for (const page of pages) {
    expect(overlaps(page)).toEqual([]);
    expect(outside(page, 5)).toEqual([]);
    for (const { text, x, y, width, height } of page.items) {
      const column = Math.floor((x - grid.leftMm) / grid.pitchXMm);
      const row = Math.floor((y - grid.topMm) / grid.pitchYMm);
      const [left, top] = [grid.leftMm + column * grid.pitchXMm, grid.topMm + row * grid.pitchYMm];
      const rims = { left: x - left, right: left + grid.widthMm - x - width, top: y - top, bottom: top + grid.heightMm - y - height };
      for (const rim of Object.values(rims)) expect(rim, `${text} ${JSON.stringify(rims)}`).toBeGreaterThanOrEqual(2);
    }
  }
});

test.each(KEYS)('%s: the same label stands one pitch further, moved by the offset, within half a millimetre', async (key) => {
  const grid: LabelGrid = GRIDS[key];
  const [page] = await print([jarLabel(), jarLabel(), jarLabel()], grid, { start: 1 });
  const places = page!.items.filter(({ text }) => text.startsWith('Solution of'));
  const shift = (i: number) => [places[i]!.x - places[0]!.x, places[i]!.y - places[0]!.y];
  // On a sheet without rim the first column keeps its text off the edge of the paper: its labels begin further right.
  const inset = Math.max(0, 6 - grid.leftMm - 2.5);
  expect(Math.abs(shift(1)[0]! - (grid.pitchXMm - inset))).toBeLessThan(0.5);
  expect(Math.abs(shift(1)[1]!)).toBeLessThan(0.5);
  expect(Math.abs(shift(2)[1]! - (grid.pitchYMm - Math.max(0, 6 - grid.topMm - 2.5)))).toBeLessThan(0.5);
  const [moved] = await print([jarLabel()], grid, { start: grid.across + 2, offset: { xMm: -1.5, yMm: 2 } });
  const at = moved!.items.find(({ text }) => text.startsWith('Solution of'))!;
  expect(Math.abs(at.x - places[1]!.x + 1.5)).toBeLessThan(0.5);
  expect(Math.abs(at.y - places[2]!.y - 2)).toBeLessThan(0.5);
});

test('a label tells contents, concentration, mass, days, hazard, what to do, station and card; its QR leads to the jar', async () => {
  const [page] = await print([jarLabel()], GRIDS['2x4-99.1x67.7']);
  for (const words of [
    'Solution of sodium hydroxide',
    '33.3 % by mass',
    'Danger: corrosive',
    'J-0042',
    '351 g',
    '12 December 2026',
    '26 December 2026',
    'Causes severe skin burns and eye damage. (H314)',
    'Immediately call a POISON CENTER/doctor.',
    "Follow the supplier's safety data sheet",
    'Station 1, W-0001 issue 2, version 3',
    'Printed 5 December 2026',
  ])
    expect(page!.text.replace(/\s/g, ' ')).toContain(words);
  expect(readQr(page!, { x: 4.65 + 99.1 - 2.5 - 20, y: 13.1 + 2.5, sizeMm: 20 })).toBe('https://studio.example.org/studio/jars?number=J-0042');
});

test('letters have an x-height of 1.2 mm at least, and of 2 mm where the label is large', async () => {
  // x-height of the lettering: 0.496 of its size, from its own tables; an item is 0.94 of its size high.
  const least = async (key: LabelSheetKey) => Math.min(...(await print([jarLabel()], GRIDS[key]))[0]!.items.map(({ height }) => (height / 0.94) * 0.496));
  expect(await least('2x4-99.1x67.7')).toBeGreaterThanOrEqual(1.2);
  expect(await least('2x3-101.6x84.7')).toBeGreaterThanOrEqual(1.2);
  expect(await least('2x2-105x148.5')).toBeGreaterThanOrEqual(1.999);
});

test('a label printed before the jar is filled leaves number, mass and days to be written, and claims none', async () => {
  const label = labelOfJar(sampleCard(), null, STAMP, 'EU');
  expect(label.facts.map(({ value }) => value)).toEqual([null, null, null, null]);
  expect(label.qrPath).toBe('/join/K7TP21');
});

test('thin lye is labelled by its concentration: 1 % is an irritant in the EU and corrosive in the US', () => {
  const thin = sampleCard({ change: { lyeConcentrationPercent: 1 } });
  // Limits of Annex VI of CLP for sodium hydroxide: 0.5 to 2 % is Skin Irrit. 2 and Eye Irrit. 2. US: by pH, from memory.
  expect(labelOfJar(thin, null, STAMP, 'EU').signalWord).toBe('Warning');
  expect(labelOfJar(thin, null, STAMP, 'EU').statements[0]).toContain('Causes serious eye irritation. (H319)');
  expect(labelOfJar(thin, null, STAMP, 'US').signalWord).toBe('Danger: corrosive');
});

test.each(KEYS)('%s: the calibration page has the frames of all labels and two rulers of 100 mm', async (key) => {
  const grid: LabelGrid = GRIDS[key];
  const offset = { xMm: 1, yMm: -0.5 };
  const made = await printFile({ paper: grid.paper, title: 'Calibration', at: STAMP.printedAt }, (pen) => calibrationSheet(pen, grid, offset));
  const [page] = await readPdf(made.bytes);
  const near = (a: number, b: number) => Math.abs(a - b) < 0.05;
  expect(page!.strokes.filter(({ width, height }) => near(width, 100) && near(height, 0))).toHaveLength(1);
  expect(page!.strokes.filter(({ width, height }) => near(width, 0) && near(height, 100))).toHaveLength(1);
  const frames = page!.strokes.filter(({ width, height }) => near(width, grid.widthMm) && near(height, grid.heightMm));
  expect(frames).toHaveLength(cellsOf(grid));
  expect(frames.at(-1)!.x).toBeCloseTo(grid.leftMm + (grid.across - 1) * grid.pitchXMm + 1, 1);
  expect(frames.at(-1)!.y).toBeCloseTo(grid.topMm + (grid.down - 1) * grid.pitchYMm - 0.5, 1);
  expect(page!.text).toContain('Print at 100 %');
  expect(page!.text.replace(/\s/g, ' ')).toContain('to the right now 1 mm, down −0.5 mm');
  expect(overlaps(page!)).toEqual([]);
});
