import { figure } from './check-number.ts';
import type { Outcome } from './outcome.ts';
import { problem } from './outcome.ts';
import { checkTemperature, whenSound } from './when-sound.ts';

/** 'hot': made for it; 'with care': softens or swells; 'cold only': stored solution; 'never': attacked or breaks. */
export type CausticRating = 'hot' | 'with care' | 'cold only' | 'never';

export type ContainerMaterial = {
  key: string;
  name: string;
  /** Number in the triangle (ASTM D7611, from memory); none for what is not a plastic. */
  resinCode: number | null;
  /** Published highest service temperature, C; null where none is published. */
  limitC: number | null;
  rating: CausticRating;
  reason: string;
  source: string;
  provenance: 'read' | 'from memory';
};

const LAB = 'Lab-Wares resin table';
const MFG = 'Metal Finishing Guidebook Table VIII';
const SW = 'Sargent-Welch plasticware guide';
type Row = readonly [string, string, number | null, number | null, CausticRating, string, string, ContainerMaterial['provenance']];

// prettier-ignore
const ROWS: readonly Row[] = [
  ['pp', 'Polypropylene (PP)', 5, 135, 'hot', 'resists caustic; brittle below 0 °C', `${LAB}, DWK; ${MFG} (to 30 % NaOH; to 50 % from memory)`, 'read'],
  ['hdpe', 'High-density polyethylene (HDPE)', 2, 120, 'with care', 'resists caustic but softens when hot: 120 °C is no working limit for a filled vessel', `${LAB}; ${MFG}`, 'read'],
  ['ldpe', 'Low-density polyethylene (LDPE)', 4, 80, 'cold only', 'resists caustic (from memory) but softens', LAB, 'read'],
  ['pvc', 'PVC', 3, 66, 'cold only', 'resists caustic to about 66 °C only', MFG, 'read'],
  ['ps', 'Polystyrene (PS)', 6, 90, 'cold only', 'brittle, and softens below the peak of a 25 % solution without ice', `${LAB}; ${SW}`, 'read'],
  ['pc', 'Polycarbonate (PC)', 7, 135, 'never', 'bears the heat but is attacked by strong alkali and cracks', `${LAB}; ${SW}`, 'read'],
  ['pet', 'Polyethylene terephthalate (PET)', 1, 70, 'never', 'is taken apart by alkali', 'general labware tables', 'from memory'],
  ['pmp', 'Polymethylpentene (PMP)', 7, 145, 'hot', 'resists caustic and heat', `labware tables; ${SW} (read: excellent resistance)`, 'from memory'],
  ['steel_304', 'Stainless steel 304', null, null, 'hot', 'resists caustic; cracks only above about 100 °C in strong solution', 'NACE and Outokumpu caustic service charts', 'from memory'],
  ['steel_316', 'Stainless steel 316', null, null, 'hot', 'as 304', 'NACE caustic service charts', 'from memory'],
  ['glass', 'Glass, also borosilicate', null, null, 'never', 'is etched by alkali and can burst from the sudden heat', 'corrosion handbooks', 'from memory'],
  ['aluminium', 'Aluminium', null, null, 'never', 'dissolves and gives off hydrogen, which burns', 'Dow, physical properties of caustic soda; supplier safety data sheet', 'read'],
  ['zinc_tin_copper', 'Zinc or galvanised, tin, copper, brass, bronze, chromium plate', null, null, 'never', 'reacts readily', 'Dow, caustic soda, list of metals', 'read'],
  ['wood', 'Wood', null, null, 'never', 'is eaten by alkali, which loosens splinters', 'corrosion handbooks', 'from memory'],
  ['silicone', 'Silicone rubber', 7, 200, 'with care', 'good for moulds, only fair for solution', 'elastomer charts', 'from memory'],
];

export const CONTAINER_MATERIALS: readonly ContainerMaterial[] = ROWS.map(
  ([key, name, resinCode, limitC, rating, reason, source, provenance]): ContainerMaterial => ({
    key,
    name,
    resinCode,
    limitC,
    rating,
    reason,
    source,
    provenance,
  }),
);

/**
 * Room left under the published limit, C: the peak is an estimate and beads on the bottom are hotter
 * than the stirred pot. Ours, no source. Steel has no limit here but the 100 C of caustic cracking.
 */
const MARGIN_C: Record<CausticRating, number> = { hot: 10, 'with care': 40, 'cold only': 10, never: 0 };
const STEEL_LIMIT_C = 110;
const COLD_C = 40;

export type ContainerVerdict = { verdict: 'bears it' | 'with care' | 'does not bear it'; workingLimitC: number | null; marginC: number | null; words: string };

function workingLimit(material: ContainerMaterial): number | null {
  if (material.rating === 'never') return null;
  const limit = (material.limitC ?? STEEL_LIMIT_C) - MARGIN_C[material.rating];
  return material.rating === 'cold only' ? Math.min(limit, COLD_C) : limit;
}

/**
 * Whether a container may hold a pot that peaks at a temperature in C. Its temperature rating alone
 * never qualifies a material: polycarbonate bears 135 C and is attacked by alkali. The supplier's
 * sheet of the container comes first. Unknown keys are refused at "/materialKey".
 */
export function containerBears(materialKey: string, peakC: number): Outcome<ContainerVerdict> {
  const material = CONTAINER_MATERIALS.find((each) => each.key === materialKey);
  const problems = checkTemperature(peakC, '/peakC', 'The peak', { min: -40, max: 260 });
  if (!material) problems.push(problem('value-out-of-range', '/materialKey', `There is no container material "${materialKey}" in the list; choose one of it.`));
  return whenSound(problems, () => {
    const limit = material ? workingLimit(material) : null;
    if (!material || limit === null)
      return {
        verdict: 'does not bear it',
        workingLimitC: null,
        marginC: null,
        words: `${material?.name ?? materialKey}: not for lye at any temperature; it ${material?.reason ?? 'is unknown'}.`,
      };
    const marginC = limit - peakC;
    const bears = marginC >= 0;
    const verdict = bears ? (material.rating === 'hot' ? 'bears it' : 'with care') : 'does not bear it';
    const words = `${material.name}: ${bears ? `${figure(marginC, 0)} °C under` : `${figure(-marginC, 0)} °C over`} its working limit of ${limit} °C for lye; ${material.reason}.`;
    return { verdict, workingLimitC: limit, marginC, words };
  });
}
