import type { FormState } from '../../forms/form-state.ts';
import type { Fault } from './work-out.ts';

type Circumstances = {
  refused: FormState | null;
  /** Fields the person has been in and left. */
  left: readonly string[];
  /** A page just opened says nothing yet about what is still blank. */
  quiet: boolean;
};

/**
 * The faults to show beside their fields: those found while typing, and of the API's those whose field still holds what
 * it refused. A blank field nobody has been in yet is no fault on a new page.
 */
export function shownFaults(
  faults: readonly Fault[],
  typed: Readonly<Record<string, string>>,
  { refused, left, quiet }: Circumstances,
): Record<string, string> {
  const shown: Record<string, string> = {};
  for (const fault of faults) {
    if (fault.missing && quiet && !left.includes(fault.name)) continue;
    shown[fault.name] ??= fault.detail;
  }
  for (const [name, detail] of Object.entries(refused?.errors ?? {})) {
    if (typed[name] !== undefined && typed[name] === refused?.values[name]) shown[name] ??= detail;
  }
  return shown;
}
