import { ATOMIC_WEIGHT } from './alkali.ts';

/** Atoms of a compound; an absent element counts as none. */
export type Atoms = Partial<Record<keyof typeof ATOMIC_WEIGHT, number>>;

/** Molar mass in g/mol from the standard atomic weights of alkali.ts. */
export function molarMass(atoms: Atoms): number {
  const { H, C, O, Na, K } = ATOMIC_WEIGHT;
  return H * (atoms.H ?? 0) + C * (atoms.C ?? 0) + O * (atoms.O ?? 0) + Na * (atoms.Na ?? 0) + K * (atoms.K ?? 0);
}
