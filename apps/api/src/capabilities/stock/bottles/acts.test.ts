import { BOTTLE_STATES } from '@ashwater/contracts';
import { expect, test } from 'vitest';
import { holdsCaustic, mayBe, refusalOf } from './acts.ts';
import { cautionsOf } from './cautions.ts';

const KINDS = ['opened', 'closed', 'emptied', 'rinsed', 'disposed', 'moved'] as const;

test('a container is disposed of only when emptied and then rinsed', () => {
  const before = (kind: (typeof KINDS)[number]) => BOTTLE_STATES.filter((state) => refusalOf(state, kind, 'A-1') === undefined);
  expect(before('disposed')).toEqual(['rinsed']);
  expect(before('rinsed')).toEqual(['emptied']);
  expect(before('emptied')).toEqual(['closed', 'opened']);
  expect(before('opened')).toEqual(['closed']);
  expect(before('closed')).toEqual(['opened']);
  expect(before('moved')).toEqual(['closed', 'opened', 'emptied', 'rinsed']);
});

test('every refusal names the container and its state, and what is offered is never refused', () => {
  for (const state of BOTTLE_STATES)
    for (const kind of KINDS) {
      const refusal = refusalOf(state, kind, 'A-1');
      expect([state, kind, mayBe(state).includes(kind)]).toEqual([state, kind, refusal === undefined]);
      if (refusal !== undefined) expect(refusal).toMatch(/^Container A-1 (is|was) /);
    }
});

test('only a dry container takes caustic', () => {
  expect(BOTTLE_STATES.filter(holdsCaustic)).toEqual(['closed', 'opened']);
});

// 2 MOH + CO2 -> M2CO3 + H2O: 2 x 39.997 / 44.009 = 1.818 for sodium, 2 x 56.105 / 44.009 = 2.550 for potassium
// (IUPAC abridged standard atomic weights 2021).
test('the caution tells what carbon dioxide spends', () => {
  expect(cautionsOf('NaOH', 'closed').join(' ')).toContain('spends 1.8 g of hydroxide');
  expect(cautionsOf('KOH', 'opened').join(' ')).toMatch(/spends 2\.[56] g of hydroxide/);
  expect(cautionsOf('KOH', 'opened')[0]).toContain('safety data sheet');
  expect(cautionsOf('NaOH', 'emptied').join(' ')).not.toContain('carbon dioxide');
  expect(cautionsOf('NaOH', 'disposed')).toEqual([]);
});
