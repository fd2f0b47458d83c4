import { expect, test, vi } from 'vitest';
import { longCard, sampleCard, STAMP } from '../../../testing/print-samples.ts';
import { outside, overlaps, readQr, readPdf } from '../../../testing/read-pdf.ts';
import type { PdfPage } from '../../../testing/read-pdf.ts';
import { printSections } from '../print-file.ts';
import { besides, needsOf } from '../pull-list.ts';
import { cabinetSheet } from './cabinet-sheet.ts';
import { cardNumbers, classSheet } from './class-sheet.ts';
import { firstAidSheet } from './first-aid-sheet.ts';
import type { Section } from './flow.ts';
import { gearSheets } from './gear-sheet.ts';
import type { PaperKey } from './paper.ts';
import type { Pen } from './pen.ts';
import { pullSheet } from './pull-sheet.ts';

// A PDF is made and read again in each test: quick alone, slow on a machine that runs everything at once.
vi.setConfig({ testTimeout: 30_000 });

const cards = [sampleCard({ n: 1 }), sampleCard({ n: 2 })];
const aboutOf = (all: typeof cards, title = 'Saturday beginners', recipe = 'Plain olive bar, version 3') => ({
  id: '0199',
  title,
  startsAt: new Date('2026-12-12T10:00:00Z'),
  room: 'Back room',
  recipe,
  cards: cardNumbers(all),
});
const pullOf = (all: typeof cards) => {
  const { vinegar, gloves } = besides(all.length, 3, 10);
  return { needs: [...needsOf(all, { totals: [], stock: [] }, 10), vinegar], gloves, sparePercent: 10 };
};
const bottle = (n: number, lotNumber: string, substance: 'NaOH' | 'KOH') => ({ label: `Bottle ${n}`, substance, lotNumber, tareMg: 62_000 });
const print = async (sections: (pen: Pen) => Section[], paper: PaperKey = 'a4') =>
  readPdf((await printSections({ paper, title: 'A sheet', at: STAMP.printedAt }, sections)).bytes);
const flat = (pages: PdfPage[]) => pages.map(({ text }) => text.replace(/\s/g, ' ')).join(' ');

test('the gear list has a square for each item and each of three wearers, and room for two signers', async () => {
  const pages = await print((pen) => gearSheets(pen, STAMP, cards[0]!, ['Sam', 'Łucja Ångström'], 90));
  expect(pages).toHaveLength(1);
  const text = flat(pages);
  for (const words of [
    'Gear list, Station 1',
    'Weigh card W-0001, issue 2',
    'Page 1 of 1',
    'Sam',
    'Ångström',
    'Wearer 3',
    'Second person, never the wearer',
    'after 90 minutes',
  ])
    expect(text).toContain(words);
  for (const { name } of cards[0]!.content.gear) expect(text).toContain(name);
  const squares = pages[0]!.strokes.filter(({ width, height }) => Math.abs(width - height) < 0.01 && width >= 8);
  // Eight items by three wearers, and one for a visitor.
  expect(squares).toHaveLength(8 * 3 + 1);
});

test('four wearers at a station get two gear lists, each of its own', async () => {
  const pages = await print((pen) => gearSheets(pen, STAMP, cards[0]!, ['Ann', 'Ben', 'Cleo', 'Dan'], 90));
  expect(pages.map(({ text }) => [text.includes('Cleo'), text.includes('Dan')])).toEqual([
    [true, false],
    [false, true],
  ]);
});

test('the class sheet has every station with its card, the sums, and a roster with names known and blank lines', async () => {
  const names = new Map([[cards[0]!.classStationId, ['Sam', 'Kim', 'Noor']]]);
  const pages = await print((pen) => [classSheet(pen, STAMP, aboutOf(cards), cards, needsOf(cards, { totals: [], stock: [] }, 0), names)]);
  const text = flat(pages);
  for (const words of [
    'Station 1 W-0001, issue 2',
    'Station 2 W-0002, issue 2',
    'Plain olive bar, version 3',
    '4.2 to 11.6 %',
    'Sodium hydroxide, lot L-2026-07 2 282 g 2 stations',
    'Olive oil 480 g',
    'Sam',
    'Kim',
    'Noor',
  ])
    expect(text).toContain(words);
  expect(text).toContain('Page 1 of');
});

test('of unequal cards the class sheet tells the widest band, and both sheets the hottest solution', async () => {
  const hot = sampleCard({ n: 3, change: { superfatBandPercent: { low: 3.1, nominal: 8, high: 10 }, peakTemperatureC: 61.2 } });
  const all = [...cards, hot];
  const sheet = flat(await print((pen) => [classSheet(pen, STAMP, aboutOf(all), all, [], new Map())]));
  expect(sheet).toContain('3.1 to 11.6 %');
  expect(sheet).toContain('61 °C, upper bound');
  const aid = flat(await print((pen) => [firstAidSheet(pen, STAMP, aboutOf(all), all, [])]));
  expect(aid.match(/Solution of 33\.3 %, up to about \d+ °C/g)).toEqual(['Solution of 33.3 %, up to about 61 °C']);
});

test('the pull list tells what to fetch with the spare and what the cards need, caustic by its lot', async () => {
  const pages = await print((pen) => [pullSheet(pen, STAMP, aboutOf(cards), pullOf(cards))]);
  const text = flat(pages);
  // 2 x 1141 g is 2282 g, and a tenth more 2510.2 g: 2511 g on a scale that shows grams.
  expect(text).toContain('Sodium hydroxide, lot L-2026-07 2 511 g 2 282 g 2 stations. Locked cabinet');
  expect(text).toContain('Vinegar, 5 % household 550 g 500 g 2 stations. For wiped surfaces only, never on skin');
  expect(text).toContain('Gloves 9 pairs');
});

test('the first-aid sheet says water at once, whom to call, never vinegar, and that the data sheet comes first', async () => {
  const sheets = [{ substance: 'Sodium hydroxide', lotNumber: 'L-2026-07', link: 'https://supplier.example.org/sds.pdf', revisedOn: '2025-03-01' }];
  const text = flat(await print((pen) => [firstAidSheet(pen, STAMP, aboutOf(cards), cards, sheets)]));
  for (const words of [
    'Emergency call: 112',
    'running water at once, for at least 15 minutes',
    'NEVER vinegar on skin',
    'comes before this sheet',
    'Solution of 33.3 %, up to about 53 °C',
    'lot L-2026-07: https://supplier.example.org/sds.pdf, revised 2025-03-01',
  ])
    expect(text).toContain(words);
});

test('the cabinet sheet goes lot by lot and tells nothing that the book holds', async () => {
  const shelf = [bottle(2, 'N-10', 'NaOH'), bottle(1, 'N-9', 'NaOH'), bottle(3, 'K-1', 'KOH')];
  const [page] = await print((pen) => [cabinetSheet(pen, STAMP, shelf)]);
  const heads = page!.items.filter(({ text }) => text.includes(', lot ')).map(({ text }) => text);
  expect(heads).toEqual(['Potassium hydroxide, lot K-1', 'Sodium hydroxide, lot N-9', 'Sodium hydroxide, lot N-10']);
  const masses = page!.text.replace(/\s/g, ' ').match(/\d[\d.]* g\b/g);
  expect(masses).toEqual(['62 g', '62 g', '62 g']);
});

const LONG_ABOUT = {
  title: 'The long Saturday class for people who want to weigh every single thing once',
  recipe: 'A recipe with as many fats as anybody ever weighed and a title to go with it, version 1',
};
const many = Array.from({ length: 24 }, (_, i) => longCard(i + 1));
const everyName = ['Wilhelmina Featherstonehaugh-Cholmondeley of the Upper and Lower Marshes', 'B', 'C', 'D'];
const names = new Map(many.map((card) => [card.classStationId, everyName]));
const SHEETS: Record<string, (pen: Pen) => Section[]> = {
  gear: (pen) => gearSheets(pen, STAMP, many[0]!, everyName, 90),
  class: (pen) => [classSheet(pen, STAMP, aboutOf(many, LONG_ABOUT.title, LONG_ABOUT.recipe), many, needsOf(many, { totals: [], stock: [] }, 0), names)],
  pull: (pen) => [pullSheet(pen, STAMP, aboutOf(many, LONG_ABOUT.title, LONG_ABOUT.recipe), pullOf(many))],
  'first aid': (pen) => [firstAidSheet(pen, STAMP, aboutOf(many, LONG_ABOUT.title, LONG_ABOUT.recipe), many, [])],
  cabinet: (pen) => [
    cabinetSheet(
      pen,
      STAMP,
      Array.from({ length: 60 }, (_, i) => bottle(i, `Lot ${i % 7}`, i % 2 ? 'KOH' : 'NaOH')),
    ),
  ],
};
const CASES = Object.keys(SHEETS).flatMap((name) => (['a4', 'letter'] as const).map((paper) => [name, paper] as const));

test.each(CASES)(
  '%s on %s for 24 stations with long names: nothing outside 10 mm, nothing over another, every page numbered, its QR read',
  async (name, paper) => {
    const pages = await print(SHEETS[name]!, paper);
    for (const page of pages) {
      expect({ outside: outside(page, 10), overlaps: overlaps(page) }).toEqual({ outside: [], overlaps: [] });
      expect(page.text).toMatch(/Page \d+ of \d+/);
      expect(page.text).toContain('Printed 5 December 2026, 14:30 (Europe/Lisbon)');
      expect(readQr(page, { x: page.widthMm - 36, y: 10, sizeMm: 26 })).toMatch(/^https:\/\/studio\.example\.org\//);
    }
  },
);

test('a table that goes on overleaf has its head on every page', async () => {
  const oneLot = Array.from({ length: 40 }, (_, i) => bottle(i, 'N-1', 'NaOH'));
  const pages = await print((pen) => [cabinetSheet(pen, STAMP, oneLot)]);
  const tables = pages.filter(({ text }) => /Bottle \d/.test(text));
  expect(tables.length).toBeGreaterThan(1);
  for (const { text } of tables) expect(text).toContain('Shows on the scale');
});
