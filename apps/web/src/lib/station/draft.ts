const PREFIX = 'ashwater-reading:';

/** The one number being typed, kept in this tab only, so that a lost connection or a reload does not take it. */
export function keepDraft(key: string, text: string): void {
  try {
    for (const name of Object.keys(sessionStorage)) {
      if (name.startsWith(PREFIX) && name !== PREFIX + key) sessionStorage.removeItem(name);
    }
    if (text === '') sessionStorage.removeItem(PREFIX + key);
    else sessionStorage.setItem(PREFIX + key, text);
  } catch {
    // A browser that forbids storage only loses this comfort.
  }
}

export function draftOf(key: string): string {
  try {
    return sessionStorage.getItem(PREFIX + key) ?? '';
  } catch {
    return '';
  }
}
