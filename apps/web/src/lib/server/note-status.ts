export type NoteStatus = { number: string; reviewed: boolean; outcomes: { outcome: string; learned: string; change: string }[] };

const isText = (value: unknown): value is string => typeof value === 'string';

function isOutcome(value: unknown): value is NoteStatus['outcomes'][number] {
  const { outcome, learned, change } = (value ?? {}) as Record<string, unknown>;
  return isText(outcome) && isText(learned) && isText(change);
}

/** Reads the API's answer about a note without a name; it has no schema of its own in the contracts. */
export const noteStatus = {
  parse(value: unknown): NoteStatus {
    const { number, reviewed, outcomes } = (value ?? {}) as Record<string, unknown>;
    if (!isText(number) || typeof reviewed !== 'boolean' || !Array.isArray(outcomes) || !outcomes.every(isOutcome))
      throw new TypeError('The note status has another shape than expected.');
    return { number, reviewed, outcomes };
  },
};
