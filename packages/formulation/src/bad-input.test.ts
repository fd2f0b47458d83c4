import { describe, expect, it } from 'vitest';
import * as formulation from './index.ts';
import { CALLS } from './testing-calls.ts';

/** What may stand where a number belongs: nothing, no number, text, the wrong sign, a milligram, ten tonnes, more than there is. */
const BAD: unknown[] = [NaN, Infinity, -Infinity, -1, 0, 1, 1e10, 1e300, -1e300, 5e-324, '12', '', null, undefined, true, {}, []];

/** Where nothing more is promised than that it does not throw, the kinds of bad value are enough. */
const FEW_BAD: unknown[] = [NaN, -1, '12', null, undefined];

/** Paths of all numbers in an input, like ['0', 'fats', '1', 'sharePercent']. */
function numbersIn(value: unknown, path: string[] = []): string[][] {
  if (typeof value === 'number') return [path];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => numbersIn(inner, [...path, key]));
}

function replaced(value: unknown, [key, ...rest]: string[], by: unknown): unknown {
  if (key === undefined) return by;
  const copy = Array.isArray(value) ? [...(value as unknown[])] : { ...(value as Record<string, unknown>) };
  Object.assign(copy, { [key]: replaced((value as Record<string, unknown>)[key], rest, by) });
  return copy;
}

/** What is wrong with an answer, as words; null when nothing is. */
function faultOf(answer: unknown): string | null {
  const outcome = answer as { ok?: boolean; value?: unknown; problems?: { code?: string; pointer?: string; detail?: string }[] } | null;
  if (outcome && typeof outcome === 'object' && outcome.ok === false) {
    if (!outcome.problems?.length) return 'a refusal without a problem';
    const bare = outcome.problems.find(({ code, pointer, detail }) => !code || typeof pointer !== 'string' || !detail?.endsWith('.'));
    return bare ? `a problem without code, pointer or sentence: ${JSON.stringify(bare)}` : null;
  }
  const nan = notNumbers(answer);
  return nan === null ? null : `not a number at ${nan}`;
}

function notNumbers(value: unknown, path = ''): string | null {
  if (typeof value === 'number') return Number.isNaN(value) ? path || '/' : null;
  if (typeof value === 'string') return /NaN|undefined|\[object/u.test(value) ? `${path} "${value}"` : null;
  if (typeof value !== 'object' || value === null) return null;
  for (const [key, inner] of Object.entries(value)) {
    const found = notNumbers(inner, `${path}/${key}`);
    if (found !== null) return found;
  }
  return null;
}

describe('numbers replaced one by one by what is none, by text, by nothing, by absurd sizes', () => {
  it.each(CALLS.map((each) => [each.name, each] as const))(
    '%s answers, with figures or with a problem that names its code, place and sentence',
    (_name, { input, call, checked = 0 }) => {
      expect(faultOf(call(...(input as never[])))).toBeNull();
      const faults: string[] = [];
      for (const path of numbersIn(input)) {
        const promised = Number(path[0]) >= checked;
        for (const bad of promised ? BAD : FEW_BAD) {
          const shown = `${path.join('/')} = ${typeof bad === 'string' ? `'${bad}'` : typeof bad === 'object' ? JSON.stringify(bad) : String(bad)}`;
          try {
            const fault = faultOf(call(...(replaced(input, path, bad) as never[])));
            if (fault && promised) faults.push(`${shown}: ${fault}`);
          } catch (error) {
            faults.push(`${shown}: throws ${String(error)}`);
          }
        }
      }
      expect(faults).toEqual([]);
    },
  );

  it('every exported function is called above, or takes no number', () => {
    const WITHOUT_NUMBERS = [
      'fatByKey',
      'liquidByKey',
      'fattyAcidByCode',
      'fattyAcidRanges',
      'acidByKey',
      'saponificationRangeFromAcids',
      'iodineRangeFromAcids',
      'parseMass',
    ];
    const functions = Object.entries(formulation).flatMap(([name, value]) => (typeof value === 'function' ? [name] : []));
    const called = new Set<string>([...CALLS.map((each) => each.name), ...WITHOUT_NUMBERS]);
    expect(functions.filter((name) => !called.has(name))).toEqual([]);
  });
});
