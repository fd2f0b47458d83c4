/**
 * Liquids that can supply part of the water. Only their water counts: a liquid of w % water that is
 * to supply m grams of water weighs 100 m / w grams. Their fat, sugar and acids also take up some
 * alkali; that is left out, which errs on the safe side (the real superfat is a little higher).
 */
export type Liquid = {
  key: string;
  name: string;
  /** Mass percent water. */
  waterPercent: number;
  cautions: string[];
  source: string;
  provenance: 'read' | 'from memory';
  /** What another source prints for the same liquid; `waterPercent` stays the value used. */
  otherValues?: { waterPercent: number; source: string; provenance: 'read' | 'from memory' }[];
};

/* Cautions are common practice, no published source. */
const SCORCHES = 'Sugars and proteins scorch and smell of ammonia when hot: freeze it and add the lye slowly.';
const FOAMS = 'Let it go flat and boil off the alcohol first: gas and alcohol make the solution foam over.';
const SUGARS = 'Its sugars brown with hot lye and heat the batter: freeze it, add the lye slowly and expect a hotter mould.';
const ACID = 'Its acids take up a little alkali, which is not counted: the superfat comes out a little higher.';

const FAO = 'FAO, Food composition tables (1949)';
const USDA = 'USDA National Nutrient Database, SR Legacy';

type LiquidRow = readonly [string, string, number, readonly string[], string, Liquid['provenance']];

// prettier-ignore
const LIQUID_ROWS: readonly LiquidRow[] = [
  ['whole_milk', 'Cow milk, 3.5 % fat', 87.3, [SCORCHES], `${FAO}, item 250`, 'read'],
  ['whole_milk_32', 'Cow milk, 3.2 % fat', 87.7, [SCORCHES], `${FAO}, item 252`, 'read'],
  ['skim_milk', 'Skim milk or buttermilk', 90.2, [SCORCHES], `${FAO}, item 254`, 'read'],
  ['cream_20', 'Cream, 20 % fat', 72.4, [SCORCHES], `${FAO}, item 255`, 'read'],
  ['cream_whipping', 'Cream, heavy whipping', 57.71, [SCORCHES], `${USDA}, 01053`, 'from memory'],
  ['goat_milk', 'Goat milk', 86.4, [SCORCHES], `${FAO}, item 256`, 'read'],
  ['sheep_milk', 'Sheep milk', 82.3, [SCORCHES], `${FAO}, item 257`, 'read'],
  ['buffalo_milk', 'Buffalo milk', 83, [SCORCHES], `${FAO}, item 258`, 'read'],
  ['evaporated_milk', 'Evaporated milk', 73.7, [SCORCHES], `${FAO}, item 260`, 'read'],
  ['coconut_milk', 'Coconut milk, canned', 72.88, [SCORCHES], `${USDA}, 12118`, 'from memory'],
  ['raw_coconut_milk', 'Coconut milk, raw', 67.62, [SCORCHES], `${USDA}, 12117`, 'from memory'],
  ['coconut_water', 'Coconut water', 94.99, [SUGARS], `${USDA}, 12119`, 'from memory'],
  ['beer', 'Beer', 91.96, [FOAMS, SUGARS], `${USDA}, 14003`, 'from memory'],
  ['red_wine', 'Red table wine', 86.49, [FOAMS, SUGARS, ACID], `${USDA}, 14096`, 'from memory'],
  ['white_wine', 'White table wine', 86.86, [FOAMS, SUGARS, ACID], `${USDA}, 14106`, 'from memory'],
  ['tea', 'Tea, brewed', 99.7, [], `${USDA}, 14355`, 'from memory'],
  ['coffee', 'Coffee, brewed', 99.39, [], `${USDA}, 14209`, 'from memory'],
  ['carrot_juice', 'Carrot juice', 88.87, [SUGARS], `${USDA}, 11655`, 'from memory'],
  ['apple_juice', 'Apple juice', 88.24, [SUGARS, ACID], `${USDA}, 09016`, 'from memory'],
  ['tomato_juice', 'Tomato juice, canned', 94.24, [SUGARS, ACID], `${USDA}, 11540`, 'from memory'],
  ['celery_juice', 'Celery juice, taken as the whole stalk', 95.43, [SUGARS], `${USDA}, 11143`, 'read'],
  ['aloe_juice', 'Aloe vera gel or juice, without additions', 99, [SUGARS], 'reviews of the gel give 98.5 to 99.5 %; a bought juice can hold other things, see its label', 'read'],
];

/** FAO and the milk of a US table, a US goat's milk, and the most water a standard allows. */
const OTHER_VALUES: Record<string, Liquid['otherValues']> = {
  whole_milk: [{ waterPercent: 88.13, source: `${USDA}, 01077 (3.25 % fat)`, provenance: 'from memory' }],
  goat_milk: [{ waterPercent: 87.03, source: `${USDA}, 01106`, provenance: 'from memory' }],
  coconut_milk: [{ waterPercent: 87.3, source: 'Codex CXS 240-2003, 3.1.3(b): the most a standard coconut milk may hold', provenance: 'read' }],
};

export const LIQUIDS: readonly Liquid[] = LIQUID_ROWS.map(([key, name, waterPercent, cautions, source, provenance]): Liquid => ({
  key,
  name,
  waterPercent,
  cautions: [...cautions],
  source,
  provenance,
  ...(OTHER_VALUES[key] ? { otherValues: OTHER_VALUES[key] } : {}),
}));

/** The liquid with this key, or undefined; keys are lower case, e.g. "goat_milk". */
export function liquidByKey(key: string): Liquid | undefined {
  return LIQUIDS.find((liquid) => liquid.key === key);
}
