import { blankRecipe } from '@ashwater/contracts';
import { describe, expect, test } from 'vitest';
import { startFrom, waterFigureOf } from './editor-state.ts';
import type { EditorState, WaterBy } from './editor-state.ts';
import { inMeasure, otherMeasures, withMeasure } from './water-figure.ts';

/** 130 g of alkali and 303.333 g of water for 1 kg of fat: a lye concentration of 30 %. */
const BATCH = { alkaliMassMg: 130_000, fatMassMg: 1_000_000, waterMassMg: 303_333 };
const PER_FAT = 0.13;

describe('one water, three measures', () => {
  test('worked by hand: c = 100 A / (A + W), r = W / A, s = 100 W / F', () => {
    expect(inMeasure('25', 'lye concentration', 'water per alkali', undefined)).toBe('3'); // 75 / 25
    expect(inMeasure('2', 'water per alkali', 'lye concentration', undefined)).toBe('33.33'); // 100 / 3; 33.33 turns back to 2.000
    expect(inMeasure('2.5', 'water per alkali', 'share of fat', PER_FAT)).toBe('32.5'); // 2.5 * 13
    expect(inMeasure('26', 'share of fat', 'lye concentration', PER_FAT)).toBe('33.333'); // 13 / (13 + 26)
  });

  test('there and back is what was typed', () => {
    const measures: WaterBy[] = ['lye concentration', 'water per alkali', 'share of fat'];
    const typed: Record<WaterBy, string[]> = {
      'lye concentration': ['25', '27.5', '30', '33', '38.2', '40'],
      'water per alkali': ['1.5', '2', '2.33', '3'],
      'share of fat': ['20', '30.3', '33', '38'],
    };
    for (const from of measures)
      for (const to of measures)
        for (const figure of typed[from]) {
          const there = inMeasure(figure, from, to, PER_FAT)!;
          expect([figure, from, to, inMeasure(there, to, from, PER_FAT)]).toEqual([figure, from, to, figure]);
        }
  });

  test('what cannot be read or turned is not guessed', () => {
    expect(inMeasure('', 'lye concentration', 'water per alkali', PER_FAT)).toBeUndefined();
    expect(inMeasure('1,234', 'water per alkali', 'lye concentration', PER_FAT)).toBeUndefined();
    expect(inMeasure('30', 'lye concentration', 'share of fat', undefined)).toBeUndefined();
  });
});

describe('another measure is chosen', () => {
  const state: EditorState = startFrom({ ...blankRecipe(), lyeConcentrationPercent: '30' });

  test('the figure is turned, and only the measure in use holds one', () => {
    const turned = withMeasure(state, 'share of fat', BATCH);
    expect(turned.draft).toMatchObject({ waterBy: 'share of fat', waterFigure: '30.333', lyeConcentrationPercent: '' });
    expect(withMeasure(turned, 'lye concentration', BATCH)).toEqual(state);
  });

  test('where the recipe is not complete the field is left blank, never with a figure that means something else', () => {
    expect(waterFigureOf(withMeasure(state, 'share of fat', null).draft)).toBe('');
    expect(waterFigureOf(withMeasure(state, 'water per alkali', null).draft)).toBe('2.333');
  });

  test('through all the measures and back is what the person wrote, to the last decimal', () => {
    const typed = { by: 'lye concentration', figure: '30' } as const;
    const ratio = withMeasure(state, 'water per alkali', BATCH, typed);
    const share = withMeasure(ratio, 'share of fat', BATCH, typed);
    expect([ratio, share].map((each) => waterFigureOf(each.draft))).toEqual(['2.333', '30.333']);
    expect(withMeasure(share, 'lye concentration', BATCH, typed)).toEqual(state);
    expect(withMeasure(withMeasure(state, 'share of fat', null, typed), 'lye concentration', null, typed)).toEqual(state);
  });

  test('once the batch needs other alkali, what was written means other water, and is not taken back', () => {
    const typed = { by: 'lye concentration', figure: '30' } as const;
    const share = withMeasure(state, 'share of fat', BATCH, typed);
    const withAcid = { ...BATCH, alkaliMassMg: 140_000 };
    // 30.333 % of the fat and 14 % alkali: 14 / (14 + 30.333) = 31.58 %
    expect(waterFigureOf(withMeasure(share, 'lye concentration', withAcid, typed).draft)).toBe('31.579');
  });

  test('the same measure again changes nothing', () => {
    expect(withMeasure(state, 'lye concentration', BATCH)).toBe(state);
  });
});

test('the measures not typed are said beside it', () => {
  expect(otherMeasures('lye concentration', BATCH)).toBe('This is 2.33 g of water for each gram of alkali, and 30.3 % of the fat as water.');
  expect(otherMeasures('share of fat', BATCH)).toBe('This is a lye concentration of 30 %, and 2.33 g of water for each gram of alkali.');
});
