import { PRIORITIES } from '@ashwater/contracts';
import type { NoteSummary, Severity } from '@ashwater/contracts';

export function priorityOf(actual: string | null, potential: string | null): NoteSummary['priority'] {
  if (actual === null || potential === null) return 'not judged';
  return PRIORITIES[actual as Severity][potential as Severity];
}
