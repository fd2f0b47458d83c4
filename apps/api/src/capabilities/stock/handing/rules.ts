import type { Purpose } from '@ashwater/contracts';
import { errorLimitMg, formatMass } from '@ashwater/formulation';
import type { Scale } from '@ashwater/formulation';
import type { Role } from '@ashwater/contracts';

/** Who may be given caustic, by what it is for. Ours: a class is taught by anybody on the staff, waste is for who keeps the cabinet. */
const MAY_TAKE: Record<Purpose, readonly Role[]> = {
  class: ['owner', 'manager', 'instructor', 'assistant'],
  test: ['owner', 'manager', 'instructor'],
  disposal: ['owner', 'manager'],
};
export const mayTake = (purpose: Purpose, role: Role): boolean => MAY_TAKE[purpose].includes(role);

/** What a purpose other than a class is called where a class's title would stand. */
export const PURPOSE_WORDS: Record<Exclude<Purpose, 'class'>, string> = { test: 'a test', disposal: 'disposal' };

/** Whether one person's word is enough for a hand-out of this mass, mg. */
export const needsSecond = (massMg: number, limits: { twoPersonKeys: boolean; twoPersonOverMg: number }): boolean =>
  limits.twoPersonKeys || massMg > limits.twoPersonOverMg;

/** A weighing as it was made: what the scale showed, and the scale or its step. All in mg. */
export type Weighed = { mg: number; scale: Scale | number };

/** How far two weighings of one thing can lie apart by the scales alone, mg: both limits of error at their worst. */
export const apartMg = (one: Weighed, other: Weighed): number => Math.ceil(errorLimitMg(one.scale, one.mg) + errorLimitMg(other.scale, other.mg));

/** What a return comes to: the mass that goes back into the book of its container, and a note to be kept; or why it cannot be. */
export type Returned = { ok: true; massMg: number; note: string } | { ok: false; detail: string };

/** A portion brought back, without its vessel. */
export function returnPortion(out: Weighed, back: Weighed, label: string): Returned {
  const moreMg = back.mg - out.mg;
  if (moreMg <= 0) return { ok: true, massMg: back.mg, note: '' };
  const limitMg = apartMg(out, back);
  if (moreMg <= limitMg)
    return {
      ok: true,
      massMg: out.mg,
      note: `Weighed ${formatMass(back.mg)}, ${formatMass(moreMg)} more than went out; the two weighings can lie ${formatMass(limitMg)} apart. Counted as nothing used.`,
    };
  return { ok: false, detail: `${formatMass(out.mg)} of container ${label} went out; ${formatMass(back.mg)} cannot come back. ${tooMuch(limitMg)}` };
}

const tooMuch = (limitMg: number): string =>
  `The two weighings can lie ${formatMass(limitMg)} apart, no more. Weigh again, without the vessel and on the scale it went out on. If it is still more, something else is in it: keep it apart, do not pour it back, and ask what was added.`;

/** A container brought back that went out whole. `bookMg` is what its book held then; gross masses are with lid and contents. */
export function returnWhole(out: Weighed, back: Weighed, container: { label: string; tareMg: number; bookMg: number }): Returned {
  const { label, tareMg, bookMg } = container;
  const limitMg = apartMg(out, back);
  if (back.mg < tareMg - limitMg)
    return { ok: false, detail: `Container ${label} weighs ${formatMass(tareMg)} when empty; ${formatMass(back.mg)} is less. Weigh it again, with its lid.` };
  const usedMg = out.mg - back.mg;
  if (-usedMg > limitMg)
    return {
      ok: false,
      detail: `Container ${label} went out weighing ${formatMass(out.mg)}; ${formatMass(back.mg)} cannot come back. The two weighings can lie ${formatMass(limitMg)} apart, no more. Weigh again with the same lid, dry outside, on the same scale. If it is still more, something else is in it: keep it apart and ask what was added.`,
    };
  if (usedMg < 0)
    return {
      ok: true,
      massMg: bookMg,
      note: `Weighed ${formatMass(-usedMg)} more than when it went out; the two weighings can lie ${formatMass(limitMg)} apart. Counted as nothing used.`,
    };
  if (usedMg > bookMg)
    return {
      ok: true,
      massMg: 0,
      note: `By weighing ${formatMass(usedMg)} left it, ${formatMass(usedMg - bookMg)} more than its book held. The book gave all it had; count this container.`,
    };
  return { ok: true, massMg: bookMg - usedMg, note: '' };
}
