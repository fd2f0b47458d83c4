import { AROUND_DEFAULT_C, parseDecimal, WORKING_DEFAULT_C } from '@ashwater/formulation';
import type { Circumstances } from '@ashwater/formulation';

function temperature(text: string, fallback: number, range: { name: string; min: number; max: number }): number {
  const read = parseDecimal(text.replace(/\s*°?\s*C\s*$/iu, ''), { ...range, maxDecimals: 1 });
  return read.ok ? read.value.value : fallback;
}

/** Where the pot cools, as typed beside the results. Blank or unreadable is our default, and the panel says what it counted with. */
export function circumstancesOf({ aroundC, workingC }: { aroundC: string; workingC: string }): Required<Pick<Circumstances, 'aroundC' | 'workingC'>> {
  return {
    aroundC: temperature(aroundC, AROUND_DEFAULT_C, { name: 'The temperature around the pot', min: -20, max: 45 }),
    workingC: temperature(workingC, WORKING_DEFAULT_C, { name: 'The working temperature', min: 0, max: 100 }),
  };
}
