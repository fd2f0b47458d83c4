import type { CountOut, Substance } from '@ashwater/contracts';
import { unaccountedMass } from '@ashwater/formulation';
import type { Weighing } from '@ashwater/formulation';

export type CountedContainer = { label: string; bookMg: number; netMg: number };
/** What the ledger says of the counted containers: their book at the last count, and what moved since. */
export type Moved = { openingMg: number; receiptsMg: number; removalsMg: number };
export type CountResult = CountOut['results'][number];

/**
 * The material balance of one substance over the containers that were weighed. All masses whole mg.
 *
 * The opening is the book's figure, not an adjusted one: a difference is never written off by counting, it stays
 * visible until a person explains it. `weighings` are therefore all that stand behind that book, from the receipt on,
 * and the count's own; corrections and write-offs were not weighed and add no doubt. The tare is none of them: the same figure is
 * in the receipt and in the count, and cancels.
 *
 * @throws Error when book and ledger do not tell the same story: a fault of the program or a changed database
 */
export function balanceOf(
  substance: Substance,
  counted: CountedContainer[],
  moved: Moved,
  weighings: (Weighing & { scaleKey: string })[],
  notCounted: string[],
): CountResult {
  const sum = (values: number[]) => values.reduce((total, value) => total + value, 0);
  const countedMg = sum(counted.map((container) => container.netMg));
  const balance = unaccountedMass({ ...moved, countedMg, weighings });
  if (!balance.ok) throw new Error(`the material balance refused its input: ${balance.problems[0]?.detail ?? ''}`);
  const { bookMg, unaccountedMg, standardUncertaintyMg, verdict, words } = balance.value;
  const standingMg = sum(counted.map((container) => container.bookMg));
  if (bookMg !== standingMg) throw new Error(`the ledger gives ${bookMg} mg of ${substance}, the balances ${standingMg} mg`);
  const left = notCounted.length === 0 ? '' : ` Not weighed in this count: ${notCounted.join(', ')}.`;
  return { substance, bookMg, countedMg, unaccountedMg, standardUncertaintyMg, verdict, words: words + left };
}
