import type { CardContent } from '@ashwater/contracts';

type Card = Pick<CardContent, 'lines' | 'solutionMassMg'>;
export type Lots = { naohLotId: string | null; kohLotId: string | null };
export type CausticOfLot = { lotId: string; massMg: number };

/**
 * The dry caustic in so much of a card's solution, by lot, whole mg: each alkali line's share of the solution times the mass of
 * solution. It goes by the card's targets, which every accepted reading is close to; water that steamed off while mixing makes
 * the jar hold a little more than this says. An alkali whose lot the class does not name is left out: nothing in the book gave it.
 */
export function causticIn(card: Card, lots: Lots, solutionMg: number): CausticOfLot[] {
  const byLot = new Map<string, number>();
  for (const line of card.lines) {
    const lotId = line.kind === 'naoh' ? lots.naohLotId : line.kind === 'koh' ? lots.kohLotId : null;
    if (lotId !== null) byLot.set(lotId, (byLot.get(lotId) ?? 0) + line.targetMg);
  }
  return [...byLot]
    .map(([lotId, lineMg]) => ({ lotId, massMg: Math.min(lineMg, Math.round((solutionMg * lineMg) / card.solutionMassMg)) }))
    .filter(({ massMg }) => massMg > 0);
}

export type JarAct = { kind: 'discarded' | 'placed' | 'used' | 'topped' | 'neutralised' | 'disposed'; massMg: number | null; place: string | null };
type JarStand = { massMg: number; concentrationPercent: number; place: string; gone: boolean };
export const GONE = ['discarded', 'neutralised', 'disposed'];

/** What a jar holds after its acts, in their order: water topped up thins it, what was used is missing, and what is gone is gone. */
export function standOf(made: Omit<JarStand, 'gone'>, acts: readonly JarAct[]): JarStand {
  return acts.reduce<JarStand>(
    (jar, { kind, massMg, place }) => {
      if (kind === 'placed') return { ...jar, place: place ?? jar.place };
      if (GONE.includes(kind)) return { ...jar, massMg: 0, gone: true };
      if (massMg === null) return jar;
      if (kind === 'topped')
        return { ...jar, massMg: jar.massMg + massMg, concentrationPercent: (jar.concentrationPercent * jar.massMg) / (jar.massMg + massMg) };
      return { ...jar, massMg: jar.massMg - massMg, gone: jar.massMg - massMg <= 0 };
    },
    { ...made, gone: false },
  );
}
