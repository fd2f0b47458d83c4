import type { NoteSummary, Priority, Severity } from '@ashwater/contracts';

/**
 * How soon a note is looked into, by what it did (rows) and what it could have done (columns). Our own wording and our own judgement
 * (no source): what could have left a lasting injury is looked into at once, whatever it did this time.
 */
export const MATRIX: Record<Severity, Record<Severity, Priority>> = {
  none: { none: 'this month', slight: 'this month', serious: 'this week', grave: 'at once' },
  slight: { none: 'this month', slight: 'this week', serious: 'this week', grave: 'at once' },
  serious: { none: 'at once', slight: 'at once', serious: 'at once', grave: 'at once' },
  grave: { none: 'at once', slight: 'at once', serious: 'at once', grave: 'at once' },
};

export function priorityOf(actual: string | null, potential: string | null): NoteSummary['priority'] {
  if (actual === null || potential === null) return 'not judged';
  return MATRIX[actual as Severity][potential as Severity];
}
