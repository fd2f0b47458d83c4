import { unaccountedMass } from '@ashwater/formulation';
import type { Balance, Weighing } from '@ashwater/formulation';
import { ownErrorMg, roundingErrorMg } from '../weighing-error.ts';

/*
 * The material balance of one substance from one count to the next: MUF = PB + X - Y - PE (IAEA Safeguards Glossary), with the
 * physical opening of each container, what its own last count found. A difference that was there before is therefore not found twice.
 */

/** A weighing without its sign, on a scale that is known from others. */
export type OnOneScale = Omit<Weighing, 'sign' | 'times'> & { scaleKey: string };
/** What a count found in one container. `weighing` is of the whole container, gross; its sign is set here. */
export type Found = { countId: string; netMg: number; weighing: OnOneScale };
/** What was moved into (1) or out of (-1) a container in the period; `weighing` is null where nothing was weighed for it. */
export type Move = { sign: 1 | -1; massMg: number; weighing: OnOneScale | null };
/** `opening` is null for a container that was never counted: its receipt is among the moves. */
export type Watched = { id: string; opening: Found | null; moves: Move[]; closing: Found };

/**
 * Unaccounted mass of one period, and its error as a linear form: standard uncertainties in mg by the source they come from, signed.
 * Sources are independent of each other. One that stands in several periods links them: a scale's own error, and the rounding of
 * a weighing that closes one period and opens the next.
 */
export type PeriodRow = { unaccountedMg: number; errors: Record<string, number> };

export function balanceOfPeriod(countId: string, watched: readonly Watched[]): { balance: Balance; row: PeriodRow } {
  const errors = new Map<string, number>();
  const add = (key: string, mg: number) => errors.set(key, (errors.get(key) ?? 0) + mg);
  const weighings: Weighing[] = [];
  let ownVariance = 0;
  const weigh = (weighing: OnOneScale, sign: 1 | -1, shared: string | null) => {
    weighings.push({ ...weighing, sign });
    const roundingMg = roundingErrorMg(weighing.stepMg);
    if (shared === null) ownVariance += roundingMg ** 2;
    else add(shared, sign * roundingMg);
    add(`scale:${weighing.scaleKey}`, sign * ownErrorMg(weighing.scale ?? weighing.stepMg, weighing.massMg));
  };
  let [openingMg, receiptsMg, removalsMg, countedMg] = [0, 0, 0, 0];
  for (const { id, opening, moves, closing } of watched) {
    if (opening) weigh(opening.weighing, 1, `weighed:${opening.countId}:${id}`);
    openingMg += opening?.netMg ?? 0;
    for (const { sign, massMg, weighing } of moves) {
      if (sign === 1) receiptsMg += massMg;
      else removalsMg += massMg;
      if (weighing) weigh(weighing, sign, null);
    }
    weigh(closing.weighing, -1, `weighed:${countId}:${id}`);
    countedMg += closing.netMg;
  }
  if (ownVariance > 0) errors.set(`own:${countId}`, Math.sqrt(ownVariance));
  const balance = unaccountedMass({ openingMg, receiptsMg, removalsMg, countedMg, weighings });
  if (!balance.ok) throw new Error(`the material balance refused its input: ${balance.problems[0]?.detail ?? ''}`);
  return { balance: balance.value, row: { unaccountedMg: balance.value.unaccountedMg, errors: Object.fromEntries(errors) } };
}
