import { expect, test, vi } from 'vitest';
import { longCard, sampleCard, STAMP } from '../../../testing/print-samples.ts';
import { outside, overlaps, readQr, readPdf } from '../../../testing/read-pdf.ts';
import { printSections } from '../print-file.ts';
import type { PaperKey } from './paper.ts';
import { weighCard } from './weigh-card.ts';

// A PDF is made and read again in each test: quick alone, slow on a machine that runs everything at once.
vi.setConfig({ testTimeout: 30_000 });

const order = (paper: PaperKey) => ({ paper, title: 'Weigh cards', at: STAMP.printedAt });
const print = async (paper: PaperKey, ...cards: ReturnType<typeof sampleCard>[]) =>
  readPdf((await printSections(order(paper), (pen) => cards.map((card) => weighCard(pen, STAMP, card)))).bytes);

test('each page of each card tells card, issue, recipe version, page x of y of that card, when it was printed and when it is void', async () => {
  const pages = await print('a4', sampleCard({ n: 1 }), sampleCard({ n: 12 }));
  const told = pages.map(({ text }) => /Weigh card (W-\d+), issue (\d+): (.*?), version (\d+)\. Void after (.*?;).*?Page (\d+) of (\d+)/.exec(text)?.slice(1));
  expect(told).toEqual([
    ['W-0001', '2', 'Plain olive bar', '3', '12 December 2026;', '1', '2'],
    ['W-0001', '2', 'Plain olive bar', '3', '12 December 2026;', '2', '2'],
    ['W-0012', '2', 'Plain olive bar', '3', '12 December 2026;', '1', '2'],
    ['W-0012', '2', 'Plain olive bar', '3', '12 December 2026;', '2', '2'],
  ]);
  // 14:30 UTC is 14:30 in Lisbon in December.
  for (const { text } of pages) expect(text).toContain('Printed 5 December 2026, 14:30 (Europe/Lisbon)');
});

// ISO 216 and ANSI/ASME Y14.1.
test.each([
  ['a4', 210, 297],
  ['letter', 215.9, 279.4],
] as const)('%s is %d x %d mm', async (paper, width, height) => {
  const [page] = await print(paper, sampleCard());
  expect(page!.widthMm).toBeCloseTo(width, 1);
  expect(page!.heightMm).toBeCloseTo(height, 1);
});

test('each weighing tells amount, accepted range and scale step; the amount is the largest thing on the card', async () => {
  const card = sampleCard();
  const pages = await print('a4', card);
  const items = pages.flatMap((page) => page.items);
  const largest = Math.max(...items.map((item) => item.height));
  expect(items.filter((item) => item.height > largest - 0.01).map((item) => item.text.replace(/\s/g, ' '))).toEqual([
    '240 g',
    '241 g',
    '54 g',
    '162 g',
    '1 141 g',
  ]);
  const text = pages.map((page) => page.text.replace(/\s/g, ' ')).join(' ');
  expect(text).toContain('Accept 1 139.5 g to 1 141.5 g');
  // Once beside each of the five weighings, once among the figures of the card.
  expect(text.match(/Scale step 1 g/g)).toHaveLength(6);
  for (const step of card.content.steps) for (const words of [`${step.no}. ${step.title}`, `Why: ${step.reason}`]) expect(text).toContain(words);
  expect(text.match(/WARNING/g)).toHaveLength(5);
});

test('squares to tick are at least 8 mm, one for each piece of gear and each step', async () => {
  const card = sampleCard();
  const squares = (await print('a4', card)).flatMap(({ strokes }) => strokes.filter(({ width, height }) => Math.abs(width - height) < 0.01));
  expect(squares).toHaveLength(card.content.gear.length + card.content.steps.length);
  for (const { width } of squares) expect(width).toBeGreaterThanOrEqual(8);
});

test.each(['a4', 'letter'] as const)('the longest recipe on %s: nothing outside 10 mm, nothing over another, no step broken', async (paper) => {
  const card = longCard();
  const pages = await print(paper, card);
  expect(pages.length).toBeGreaterThan(5);
  for (const page of pages) expect({ outside: outside(page, 10), overlaps: overlaps(page) }).toEqual({ outside: [], overlaps: [] });
  for (const step of card.content.steps.filter(({ kind }) => kind === 'weigh')) {
    const from = pages.filter(({ items }) => items.some(({ text }) => text.startsWith(`${step.no}. Weigh`)));
    expect(from, step.title).toHaveLength(1);
    const amount = String(step.targetMg! / 1000).replace(/\B(?=(\d{3})+$)/, ' ');
    const at = (start: string) => from[0]!.items.find(({ text }) => text.replace(/\s/g, ' ').startsWith(start))?.y ?? NaN;
    expect(Math.abs(at(`${amount} g`) - at(`${step.no}. Weigh`)), step.title).toBeLessThan(5);
  }
});

test('the QR code of every page leads to the station', async () => {
  const card = sampleCard();
  const pages = await print('letter', card);
  for (const page of pages) {
    expect(readQr(page, { x: page.widthMm - 10 - 26, y: 10, sizeMm: 26 })).toBe(`https://studio.example.org/join/${card.joinCode}`);
  }
});

test('changes approved after the card was issued are told on it', async () => {
  const change = { id: 'x', stepNo: 1, act: 'add' as const, words: 'Add 12 g of Water.', at: '2026-12-12T11:00:00Z', byName: 'Ada', lines: [] };
  const [page] = await print('a4', { ...sampleCard(), changes: [change] });
  expect(page!.text).toContain('Changed Add 12 g of Water. Approved by Ada, 12 December 2026, 11:00 (Europe/Lisbon).');
});

test('a file of 24 cards is made in seconds', async () => {
  const cards = Array.from({ length: 24 }, (_, i) => sampleCard({ n: i + 1 }));
  const from = performance.now();
  const { bytes } = await printSections(order('a4'), (pen) => cards.map((card) => weighCard(pen, STAMP, card)));
  // Alone on a machine it takes under one; the bound leaves room for a busy one.
  expect(performance.now() - from).toBeLessThan(6000);
  expect(bytes.length).toBeLessThan(1_000_000);
});
