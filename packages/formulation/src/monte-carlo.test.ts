import { expect, it } from 'vitest';
import { drawPlan, drawSuperfat, drawsFrom, monteCarlo } from './testing-draws.ts';

/*
 * Scale errors after OIML R 76-1 Table 6 and NIST Handbook 44 Table 6, molar masses after IUPAC: typed a second time in
 * testing-draws.ts. `npm run bench:formulation` makes a million of these weighings.
 */
it('10 000 weighings within the stated errors, of 500 plans drawn at random: none has a superfat outside the band of its plan', () => {
  const found = monteCarlo(1, 500, 20);
  expect(found).toMatchObject({ plans: 500, weighings: 10_000, outside: 0 });
  // Corners are drawn too, so the band is not only never left but reached, too: a band drawn too wide would pass the line above.
  expect(found.closestPercent).toBeLessThan(0.02);
});

it('k = 2 holds for at least 95 % of the weighings that are not in a corner (JCGM 100, 6.3.3: about 95 %)', () => {
  const { likely, even } = monteCarlo(2, 200, 50);
  expect(even).toBe(8000);
  expect(likely / even).toBeGreaterThan(0.95);
});

it('a weighing past the stated errors does leave the band: the draws can tell', () => {
  const draw = drawsFrom(3);
  const { drawn } = drawPlan(draw);
  const heavier = {
    ...drawn,
    plan: { ...drawn.plan, lines: drawn.plan.lines.map((line) => (line.kind === 'fat' ? line : { ...line, acceptHighMg: line.acceptHighMg * 1.2 })) },
  };
  const superfats = Array.from({ length: 500 }, () => drawSuperfat(heavier, draw, true));
  expect(superfats.some((superfat) => superfat < drawn.plan.superfatBandPercent.low - 1)).toBe(true);
});
