import { ATOMIC_WEIGHT } from './alkali.ts';
import { RANGE_ROWS, RANGE_SOURCES } from './fatty-acid-ranges-data.ts';
import type { RangeRow } from './fatty-acid-ranges-data.ts';

/** Double bonds of the carbon chain: none, one, or more than one. */
export type AcidClass = 'saturated' | 'monounsaturated' | 'polyunsaturated';

/** `code` is carbons:double bonds, e.g. "18:1"; "18:1-OH" is ricinoleic acid. */
export type FattyAcid = {
  code: string;
  name: string;
  carbons: number;
  doubleBonds: number;
  molarMassGPerMol: number;
  acidClass: AcidClass;
};

/** One published range, percent by mass of all fatty acids; low is 0 for "not detectable". */
export type AcidRange = { acid: FattyAcid; lowPercent: number; highPercent: number };

export type FattyAcidRanges = { fatKey: string; acids: readonly AcidRange[]; source: string; provenance: 'read' | 'from memory' };

/** Trivial names (IUPAC-IUB Lipid Nomenclature, appendix A); isomers of one code weigh the same. */
const NAMES =
  '4:0 butyric,6:0 caproic,8:0 caprylic,10:0 capric,12:0 lauric,14:0 myristic,14:1 myristoleic,15:0 pentadecanoic,16:0 palmitic,' +
  '16:1 palmitoleic,17:0 margaric,17:1 heptadecenoic,18:0 stearic,18:1 oleic,18:1-OH ricinoleic,18:2 linoleic,18:3 linolenic,' +
  '20:0 arachidic,20:1 gadoleic,20:2 eicosadienoic,20:4 arachidonic,22:0 behenic,22:1 erucic,22:2 docosadienoic,24:0 lignoceric,24:1 nervonic';

/** C(n)H(2n-2d)O2, with one more oxygen for a hydroxyl group: from the standard atomic weights. */
function acidOf(entry: string): FattyAcid {
  const [code = '', name = ''] = entry.split(' ');
  const [chain = '', hydroxyl] = code.split('-');
  const [carbons = 0, doubleBonds = 0] = chain.split(':').map(Number);
  const oxygens = hydroxyl === undefined ? 2 : 3;
  return {
    code,
    name,
    carbons,
    doubleBonds,
    molarMassGPerMol: ATOMIC_WEIGHT.C * carbons + ATOMIC_WEIGHT.H * 2 * (carbons - doubleBonds) + ATOMIC_WEIGHT.O * oxygens,
    acidClass: doubleBonds === 0 ? 'saturated' : doubleBonds === 1 ? 'monounsaturated' : 'polyunsaturated',
  };
}

export const FATTY_ACIDS: readonly FattyAcid[] = NAMES.split(',').map(acidOf);

const BY_CODE: ReadonlyMap<string, FattyAcid> = new Map(FATTY_ACIDS.map((acid) => [acid.code, acid]));

/** The acid with this code, e.g. "18:1" or "18:1-OH", or undefined. */
export function fattyAcidByCode(code: string): FattyAcid | undefined {
  return BY_CODE.get(code);
}

function rangeOf(text: string): AcidRange[] {
  const [code = '', range = ''] = text.split(' ');
  const [low, high] = range.split('-').map(Number);
  const acid = fattyAcidByCode(code);
  return acid ? [{ acid, lowPercent: low ?? 0, highPercent: high ?? 0 }] : [];
}

const ROW_BY_FAT: ReadonlyMap<string, RangeRow> = new Map(RANGE_ROWS.map((row) => [row[0], row]));

/**
 * Published fatty-acid ranges of a fat, or undefined where none is published. Ranges are those of
 * all acceptable lots, so their ends never add to 100; a lot's own composition lies inside.
 */
export function fattyAcidRanges(fatKey: string): FattyAcidRanges | undefined {
  const row = ROW_BY_FAT.get(fatKey);
  if (!row) return undefined;
  const [, source, provenance, acids] = row;
  return {
    fatKey,
    acids: acids.split(';').flatMap(rangeOf),
    source: RANGE_SOURCES[source] ?? 'unknown',
    provenance: provenance === 'R' ? 'read' : 'from memory',
  };
}
