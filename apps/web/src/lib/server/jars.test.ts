import { expect, test } from 'vitest';
import { labelOfJar } from './jars.ts';

const jar = (contents: string, concentrationPercent: number) => ({
  id: '',
  number: 'J-0001',
  contents,
  concentrationPercent,
  massMg: 1,
  madeAt: '',
  discardOn: '',
  madeBy: '',
  stationName: '',
  classTitle: '',
  state: 'in date' as const,
});
const codes = (contents: string, percent: number) => labelOfJar(jar(contents, percent)).hazard.statements.map(({ code }) => code);

// Regulation (EC) 1272/2008, Annex VI: Skin Corr. from 2 % for both. H302 from about 14 % for potassium hydroxide only:
// Annex I, 3.1.3.6 with 273 mg/kg of suppliers' sheets.
test('a jar’s hazard statements follow the alkali that its contents name', () => {
  expect(codes('Solution of sodium hydroxide', 33)).toEqual(['H290', 'H314']);
  expect(codes('Solution of potassium hydroxide', 33)).toEqual(['H290', 'H302', 'H314']);
  expect(codes('Solution of sodium hydroxide and potassium hydroxide', 33)).toContain('H302');
});

test('contents that name no alkali are judged by the stricter of both', () => {
  expect(codes('Lye', 33)).toContain('H302');
});

// Wang 2008 (thesis), phase diagram: a 35 % solution begins to freeze at about 11 °C, a 25 % one only at -16 °C.
test('the cold is warned of where the diagram says so, by the jar’s own concentration', () => {
  expect(labelOfJar(jar('Solution of sodium hydroxide', 35)).label.coldStorage).toMatch(/at 5 °C warm it slowly/);
  expect(labelOfJar(jar('Solution of sodium hydroxide', 25)).label.coldStorage).toBeNull();
});
