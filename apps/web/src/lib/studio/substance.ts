import type { LotOut, Substance } from '@ashwater/contracts';

/** Names in full: a formula alone is misread. */
export const NAME_OF: Record<Substance, string> = { NaOH: 'Sodium hydroxide', KOH: 'Potassium hydroxide' };

/** The same inside a sentence. */
export const nameIn = (substance: Substance): string => NAME_OF[substance].toLowerCase();

export type SubstanceGroup = { substance: Substance; balanceMg: number; outMg: number; lots: LotOut[]; empty: LotOut[] };

const outOf = (lot: LotOut): number => lot.containers.reduce((sum, { outMg }) => sum + outMg, 0);
const isEmpty = (lot: LotOut): boolean => lot.balanceMg === 0 && outOf(lot) === 0;

/** The cabinet by substance; lots with nothing left and nothing out stand apart. Masses in mg. */
export function bySubstance(lots: readonly LotOut[]): SubstanceGroup[] {
  return (['NaOH', 'KOH'] as const).flatMap((substance) => {
    const these = lots.filter((lot) => lot.substance === substance);
    if (these.length === 0) return [];
    const sum = (of: (lot: LotOut) => number) => these.reduce((total, lot) => total + of(lot), 0);
    return [
      { substance, balanceMg: sum(({ balanceMg }) => balanceMg), outMg: sum(outOf), lots: these.filter((lot) => !isEmpty(lot)), empty: these.filter(isEmpty) },
    ];
  });
}
