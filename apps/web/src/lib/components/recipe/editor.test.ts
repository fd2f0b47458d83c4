import { blankRecipe } from '@ashwater/contracts';
import { describe, expect, test } from 'vitest';
import { alkaliOf, editorState, fieldsOf, MOST, startFrom, withWater } from './editor-state.ts';
import type { EditorState } from './editor-state.ts';
import { afterButton, changeLines } from './lines.ts';
import { bandWords, peakWords } from './words.ts';
import { fatSum, workOut } from './work-out.ts';

const olive = (share = '100'): EditorState => ({
  ...startFrom({ ...blankRecipe(), title: 'Plain olive', fats: [{ fatKey: 'olive', sharePercent: share }] }),
  mouldMl: '1000',
});

describe('form fields and state', () => {
  test('go there and back, line by line', () => {
    const state = ['add fats', 'add liquids', 'add acids', 'add additives'].reduce(changeLines, olive('60'));
    state.draft.fats[1]!.late = true;
    expect(editorState(fieldsOf(state))).toEqual(state);
    for (const waterBy of ['water per alkali', 'share of fat'] as const) {
      const other = { ...state, draft: withWater(state.draft, waterBy, '2.4') };
      expect(editorState(fieldsOf(other))).toEqual(other);
    }
    expect(state.draft.fats).toHaveLength(2);
  });

  test('a box not ticked is not sent, as in a browser; a measure nobody offered is a lye concentration', () => {
    expect(fieldsOf(olive())).not.toHaveProperty('draft/fats/0/late');
    expect(editorState({ 'draft/fats/0/late': 'yes', 'draft/waterBy': 'buckets', 'draft/waterFigure': '30' }).draft).toMatchObject({
      fats: [{ late: true }],
      waterBy: 'lye concentration',
      lyeConcentrationPercent: '30',
    });
  });

  test('a draft stored before a field existed is read with it blank', () => {
    const { draft } = startFrom({ ...blankRecipe(), liquids: [{ liquidKey: 'goat_milk', shareOfWaterPercent: '30' }] });
    expect(draft).toMatchObject({ waterBy: 'lye concentration', peakLimitC: '', acids: [], liquids: [{ intoFatsPercent: '' }], fats: [{ late: false }] });
  });

  test('an own fat comes with the figures of the list, and travels as its key only', () => {
    const own = {
      id: '0199a0f0-0000-7000-8000-000000000001',
      name: 'Kokum, lot 3',
      botanicalName: '',
      saponificationValue: { low: 185, high: 195 },
      iodineValue: null,
      densityGPerMl: null,
      unsaponifiablePercent: null,
      source: 'data sheet, 2025-01-31',
    };
    const typed = { ...fieldsOf(olive()), 'draft/fats/0/fatKey': `own:${own.id}` };
    const state = editorState(typed, [own]);
    expect(state.draft.fats[0]!.own).toEqual(own);
    expect(fieldsOf(state)).toEqual(typed);
    expect(editorState(typed).draft.fats[0]!.own).toBeUndefined();
  });

  test('the choice of one alkali settles the share, whatever stands in the hidden field', () => {
    const typed = { ...fieldsOf(olive()), 'draft/kohSharePercent': '40' };
    expect(editorState({ ...typed, alkali: 'sodium' }).draft.kohSharePercent).toBe('0');
    expect(editorState({ ...typed, alkali: 'potassium' }).draft.kohSharePercent).toBe('100');
    expect(editorState({ ...typed, alkali: 'both' }).draft.kohSharePercent).toBe('40');
    expect(alkaliOf('40')).toBe('both');
  });

  test('a forged index makes no endless list', () => {
    expect(editorState({ 'draft/fats/99999999/fatKey': 'olive' }).draft.fats).toHaveLength(MOST.fats);
  });

  test('a line is removed from the middle; nonsense changes nothing', () => {
    const three = changeLines(changeLines({ ...olive('60') }, 'add fats'), 'add fats');
    three.draft.fats[1]!.fatKey = 'coconut';
    expect(changeLines(three, 'remove fats 1').draft.fats.map((fat) => fat.fatKey)).toEqual(['olive', '']);
    for (const command of ['', 'remove', 'remove fats', 'add title', 'drop fats 1']) expect(changeLines(three, command)).toEqual(three);
  });
});

describe('working out', () => {
  test('1 kg of olive oil at 6 % superfat needs what its published saponification value says', () => {
    // CXS 33-1981: 184 to 196 mg KOH/g, midpoint 190. NaOH = 190 / 56.1056 * 39.9971 = 135.45 g per kg at 0 %; times 0.94, at 98.5 % purity: 129.26 g.
    const { perKilogram, faults } = workOut(olive());
    expect(faults).toEqual([]);
    expect(perKilogram!.alkaliMassMg / 1000).toBeCloseTo(((190 / 56.1056) * 39.9971 * 0.94) / 0.985, 1);
  });

  test('the mould is filled by the nominal volume', () => {
    expect(workOut(olive()).inMould!.volumeMl.nominal).toBeCloseTo(1000, 0);
  });

  test('blank fields are missing, not zero, and stand beside their field', () => {
    const { faults, perKilogram } = workOut({ ...startFrom(blankRecipe()), mouldMl: '' });
    expect(perKilogram).toBeNull();
    expect(faults.map(({ name, missing }) => [name, missing])).toEqual([
      ['draft/title', true],
      ['draft/fats/0/sharePercent', true],
    ]);
  });

  test('a fat not chosen is asked for, and a share of potassium beyond 100 lands in its field', () => {
    const two = changeLines(olive('50'), 'add fats');
    two.draft.fats[1]!.sharePercent = '50';
    expect(workOut(two).faults).toEqual([{ name: 'draft/fats/1/fatKey', detail: 'Choose a fat, or remove the line.', missing: true }]);
    const koh = olive();
    koh.draft.kohSharePercent = '140';
    expect(workOut(koh).faults.map(({ name }) => name)).toEqual(['draft/kohSharePercent']);
  });

  test('a measured mould becomes the one to try; one that cannot be read leaves it alone', () => {
    const measured = { ...olive(), mould: { kind: 'box', lengthMm: '240', widthMm: '90', depthMm: '70', diameterMm: '', waterG: '' } };
    expect(afterButton(measured, 'mould').mouldMl).toBe('1512');
    expect(afterButton(olive(), 'mould').mouldMl).toBe('1000');
  });

  test('an ambiguous mould volume is refused, never guessed', () => {
    expect(workOut({ ...olive(), mouldMl: '1,200' }).faults.map(({ name }) => name)).toEqual(['mouldMl']);
  });

  test('the sum is exact where binary fractions are not', () => {
    const state = changeLines(changeLines(olive('33.3'), 'add fats'), 'add fats');
    state.draft.fats[1]!.sharePercent = '33,3';
    state.draft.fats[2]!.sharePercent = '33.4';
    expect(fatSum(state)).toEqual({ sumPercent: 100, leftPercent: 0, unread: 0 });
  });
});

test('a band is stated outward, and a temperature never without what it is', () => {
  expect(bandWords({ low: -0.01, high: 9.41 })).toBe('−0.1 to 9.5 %');
  expect(peakWords({ temperatureC: 85.2, kind: 'upper bound' })).toBe('at most 86 °C (upper bound)');
});
