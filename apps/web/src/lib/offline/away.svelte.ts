/**
 * Set by the offline part when it has arrived; until then a form that gets no answer offers nothing more.
 * Small on purpose: every form imports it.
 */
export const away = $state<{ leave: ((form: HTMLFormElement) => void) | null }>({ leave: null });
