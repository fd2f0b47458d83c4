import { writeFileSync } from 'node:fs';
import { inRepository } from '../../infra/paths.ts';
import { FALSE_ALARM_EVERY } from '../../apps/api/src/capabilities/stock/counts/loss-test.ts';
import { alarmedBy, firstAlarms, MONTHS } from './cabinet-play.ts';
import type { Studio } from './cabinet-play.ts';

/* Writes docs/cabinet-detection.md and its chart: how often the running test is wrong, and how soon it finds a loss. */
const STUDIOS = 1000;
const FIRST_SEED = 1000;
type Case = { name: string; studio: Omit<Studio, 'seed'>; dashes: string };
const CASES: Case[] = [
  { name: 'nothing is taken', studio: { stolenShare: 0 }, dashes: '' },
  { name: '0.1 % of the use is taken', studio: { stolenShare: 0.001 }, dashes: '10 5' },
  { name: '0.25 % of the use is taken', studio: { stolenShare: 0.0025 }, dashes: '3 4' },
  { name: '1 % of the use is taken', studio: { stolenShare: 0.01 }, dashes: '14 4 3 4' },
  { name: 'nothing is taken; the scale drifts by up to a twentieth of its limit a month', studio: { stolenShare: 0, driftPerMonth: 0.05 }, dashes: '1 3' },
  { name: 'nothing is taken; the scale drifts by up to a tenth of its limit a month', studio: { stolenShare: 0, driftPerMonth: 0.1 }, dashes: '6 3 1 3' },
];

const played = CASES.map((each) => {
  const alarms = firstAlarms(STUDIOS, each.studio, FIRST_SEED);
  const sorted = alarms.map((at) => at ?? Infinity).sort((a, b) => a - b);
  return { ...each, by: alarmedBy(alarms), median: sorted[Math.floor(STUDIOS * 0.5)]!, ninety: sorted[Math.floor(STUDIOS * 0.9)]! };
});

const [WIDTH, HEIGHT, LEFT, TOP] = [760, 420, 60, 20];
const x = (month: number): number => LEFT + (month / MONTHS) * (WIDTH - LEFT - 20);
const y = (share: number): number => TOP + (1 - share) * (HEIGHT - TOP - 60);
const path = (by: number[]): string => by.map((share, index) => `${index === 0 ? 'M' : 'L'}${x(index + 1).toFixed(1)} ${y(share).toFixed(1)}`).join('');
const label = (left: number, top: number, words: string, anchor: string): string =>
  `<text x="${left.toFixed(1)}" y="${top.toFixed(1)}" text-anchor="${anchor}">${words}</text>`;
const chart = [
  `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${HEIGHT + 20 * CASES.length}" font-family="sans-serif" font-size="13" role="img">`,
  `<title>Share of studios alarmed, by number of monthly counts</title><rect width="100%" height="100%" fill="#fff"/>`,
  ...[0, 0.25, 0.5, 0.75, 1].map(
    (share) => `<path d="M${LEFT} ${y(share)}H${WIDTH - 20}" stroke="#ccc"/>${label(LEFT - 8, y(share) + 4, `${100 * share} %`, 'end')}`,
  ),
  ...[6, 12, 18, 24, 30, 36].map((month) => label(x(month), y(0) + 20, String(month), 'middle')),
  label(x(MONTHS / 2), y(0) + 42, 'monthly counts', 'middle'),
  ...played.flatMap(({ name, by, dashes }, index) => {
    const line = `fill="none" stroke="#222" stroke-width="2" stroke-dasharray="${dashes}"`;
    const top = HEIGHT + 20 * index;
    return [`<path d="${path(by)}" ${line}/>`, `<path d="M${LEFT} ${top - 4}h60" ${line}/>`, label(LEFT + 72, top, name, 'start')];
  }),
  '</svg>',
];
writeFileSync(inRepository('docs', 'cabinet-detection.svg'), `${chart.join('\n')}\n`);

const count = (at: number): string => (Number.isFinite(at) ? String(at) : 'not within 36');
const rows = played.map(({ name, by, median, ninety }) => `| ${name} | ${(100 * by.at(-1)!).toFixed(1)} % | ${count(median)} | ${count(ninety)} |`);
writeFileSync(
  inRepository('docs', 'cabinet-detection.md'),
  `# How soon the counts find a loss

${STUDIOS.toLocaleString('en')} studios of our own making, three years of monthly counts each, on one scale with a step of 1 g (\`node_modules/.bin/node tests/bench/cabinet-simulation.ts\` writes this page; \`tests/bench/cabinet-play.ts\` says what is played). The running test is told to be wrong about once in ${FALSE_ALARM_EVERY} counts: ${(100 * (1 - (1 - 1 / FALSE_ALARM_EVERY) ** MONTHS)).toFixed(1)} % of studios in 36 counts.

| | alarmed within 36 counts | half of them by count | nine of ten by count |
|---|---|---|---|
${rows.join('\n')}

The last two lines are the limit of the method: it takes a scale to lean the same way all the time. One that drifts looks like a slow loss or gain. Weigh a known mass before each count, and enter it at the scale.

![Share of studios alarmed, by number of monthly counts](cabinet-detection.svg)
`,
);
