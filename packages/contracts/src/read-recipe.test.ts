import { formulate, PURITY_WITHOUT_CERTIFICATE } from '@ashwater/formulation';
import { describe, expect, test } from 'vitest';
import { draftPointer, readRecipe } from './read-recipe.ts';
import { blankRecipe, RecipeDraft } from './recipes.ts';

const withFat = (fat: Partial<RecipeDraft['fats'][number]>): RecipeDraft => ({
  ...blankRecipe(),
  title: 'Olive',
  fats: [{ fatKey: 'olive', sharePercent: '100', ...fat }],
});
const faultsOf = (draft: RecipeDraft): string[] => {
  const read = readRecipe(draft);
  const outcome = read.ok ? formulate(read.value, PURITY_WITHOUT_CERTIFICATE) : read;
  return outcome.ok ? [] : outcome.problems.map(({ pointer }) => draftPointer(pointer));
};
const bandOf = (draft: RecipeDraft) => {
  const read = readRecipe(draft);
  const formula = read.ok ? formulate(read.value, PURITY_WITHOUT_CERTIFICATE) : read;
  if (!formula.ok) throw new Error(JSON.stringify(formula.problems));
  return formula.value.superfatBandPercent;
};

describe('a fat’s certificate', () => {
  test('replaces the published range: the band narrows', () => {
    // CXS 33-1981: olive oil 184 to 196 mg KOH/g, that is 190 ± 6; a certificate of 190 ± 1 leaves a sixth of it.
    const published = bandOf(withFat({}));
    const certified = bandOf(withFat({ certificateSv: '190', certificateUncertainty: '1', certificateOn: '2026-05-03' }));
    expect(certified.nominal).toBeCloseTo(published.nominal, 3);
    expect(certified.low).toBeGreaterThan(published.low + 2);
    expect(certified.high).toBeLessThan(published.high - 2);
  });

  test('is value, give or take and date, or nothing', () => {
    expect(faultsOf(withFat({ certificateSv: '', certificateUncertainty: '', certificateOn: '' }))).toEqual([]);
    expect(faultsOf(withFat({ certificateSv: '190' }))).toEqual(['/fats/0/certificateUncertainty', '/fats/0/certificateOn']);
    expect(faultsOf(withFat({ certificateSv: '190', certificateUncertainty: '1', certificateOn: '2026-13-03' }))).toEqual(['/fats/0/certificateOn']);
    expect(faultsOf(withFat({ certificateUncertainty: '1', certificateOn: '2026-05-03' }))).toEqual(['/fats/0/certificateSv']);
  });

  test('that names another oil’s value is asked about, not refused; a value no fat has is refused at its own field', () => {
    const withValue = (certificateSv: string) => withFat({ certificateSv, certificateUncertainty: '1', certificateOn: '2026-05-03' });
    expect(faultsOf(withValue('256'))).toEqual([]);
    expect(faultsOf(withValue('19'))).toEqual(['/fats/0/certificateSv']);
    expect(faultsOf(withFat({ certificateSv: '190', certificateUncertainty: '21', certificateOn: '2026-05-03' }))).toEqual(['/fats/0/certificateUncertainty']);
  });

  test('may be missing in drafts saved before it could be given', () => {
    expect(RecipeDraft.parse(withFat({})).fats[0]).toEqual({ fatKey: 'olive', sharePercent: '100' });
  });
});

describe('an allowance', () => {
  test('is read where one figure is given, and is none where both are blank', () => {
    const allowed = (shrinkPercent: string, wastePercent: string) => {
      const read = readRecipe({ ...withFat({}), shrinkPercent, wastePercent });
      return read.ok ? read.value.allowance : read.problems.map((problem) => problem.pointer);
    };
    expect(allowed('', ' ')).toBeUndefined();
    expect(allowed('', '3.5')).toEqual({ shrinkPercent: 0, wastePercent: 3.5 });
    expect(allowed('2', '1,5')).toEqual({ shrinkPercent: 2, wastePercent: 1.5 });
    expect(allowed('much', '101')).toEqual(['/shrinkPercent', '/wastePercent']);
  });
  test('that is too much is said at its own field', () => {
    expect(draftPointer('/allowance/wastePercent')).toBe('/wastePercent');
  });
});
