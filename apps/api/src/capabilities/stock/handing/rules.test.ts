import { expect, test } from 'vitest';
import { mayTake, needsSecond, returnPortion, returnWhole } from './rules.ts';

// OIML R 76-1:2006, Table 6, class III with e = d = 1 g in service (3.5.2): 1 e up to 500 e, 2 e up to 2000 e; and half a step of rounding.
const STEP = 1000;
const at = (g: number) => ({ mg: g * 1000, scale: STEP });

test('a portion that comes back lighter, equal or empty is what the scale says', () => {
  expect(returnPortion(at(300), at(120), 'B-1')).toEqual({ ok: true, massMg: 120_000, note: '' });
  expect(returnPortion(at(300), at(300), 'B-1')).toEqual({ ok: true, massMg: 300_000, note: '' });
  expect(returnPortion(at(300), at(0), 'B-1')).toEqual({ ok: true, massMg: 0, note: '' });
});

test('a portion that is heavier by what two weighings can explain, 1.5 g each, counts as nothing used; one milligram more is refused', () => {
  expect(returnPortion(at(300), { mg: 303_000, scale: STEP }, 'B-1')).toEqual({
    ok: true,
    massMg: 300_000,
    note: 'Weighed 303\u00a0g, 3\u00a0g more than went out; the two weighings can lie 3\u00a0g apart. Counted as nothing used.',
  });
  const refused = returnPortion(at(300), { mg: 303_001, scale: STEP }, 'B-1');
  expect(refused.ok ? '' : refused.detail).toMatch(/^300\sg of container B-1 went out; .* cannot come back\. The two weighings can lie 3\sg apart/);
  expect(refused.ok ? '' : refused.detail).toMatch(/without the vessel.*keep it apart, do not pour it back/);
});

test('a scale that was checked with a known mass is believed by that check', () => {
  // the check: 1000 g shown as 1000 g, so half a step of 1 g up to 1 kg; and half a step of rounding: 1 g each
  const checked = { stepMg: 1000, capacityMg: 5_000_000, checkWeighings: [{ knownMg: 1_000_000, shownMg: 1_000_000 }] };
  const weighed = (g: number) => ({ mg: g * 1000, scale: checked });
  expect(returnPortion(weighed(300), weighed(302), 'B-1').ok).toBe(true);
  expect(returnPortion(weighed(300), weighed(303), 'B-1').ok).toBe(false);
});

const BOTTLE = { label: 'B-1', tareMg: 250_000, bookMg: 1_000_000 };
test('of a whole container what is used is gross out less gross back; the rest of its book returns', () => {
  expect(returnWhole(at(1252), at(832), BOTTLE)).toEqual({ ok: true, massMg: 580_000, note: '' });
  expect(returnWhole(at(1252), at(1252), BOTTLE)).toEqual({ ok: true, massMg: 1_000_000, note: '' });
});

test('a whole container that is heavier: 2.5 g each way is weighing, more is refused', () => {
  expect(returnWhole(at(1252), at(1257), BOTTLE)).toMatchObject({ ok: true, massMg: 1_000_000, note: expect.stringMatching(/Counted as nothing used/) });
  expect(returnWhole(at(1252), at(1258), BOTTLE)).toMatchObject({ ok: false, detail: expect.stringMatching(/went out weighing .*cannot come back/) });
});

test('a whole container never gives more than its book had, and says so; one lighter than its tare is refused', () => {
  expect(returnWhole(at(1262), at(250), BOTTLE)).toMatchObject({
    ok: true,
    massMg: 0,
    note: expect.stringMatching(/12\sg more than its book held.*count this container/),
  });
  expect(returnWhole(at(1252), at(240), BOTTLE)).toMatchObject({ ok: false, detail: expect.stringMatching(/weighs 250\sg when empty/) });
});

test('who may take what, and when one person is not enough', () => {
  const may = (['class', 'test', 'disposal'] as const).map((purpose) =>
    (['owner', 'manager', 'instructor', 'assistant'] as const).map((role) => mayTake(purpose, role)),
  );
  expect(may).toEqual([
    [true, true, true, true],
    [true, true, true, false],
    [true, true, false, false],
  ]);
  const limits = { twoPersonKeys: false, twoPersonOverMg: 1_000_000 };
  expect([needsSecond(1_000_000, limits), needsSecond(1_000_001, limits), needsSecond(1, { ...limits, twoPersonKeys: true })]).toEqual([false, true, true]);
});
