/** Signal words by severity follow ANSI Z535.4; the signs' shapes and colours ISO 3864-1. */
export type SafetyMeaning = 'danger' | 'warning' | 'caution' | 'must' | 'forbidden' | 'first-aid';

export const SIGNAL_WORDS: Record<SafetyMeaning, string> = {
  danger: 'Danger',
  warning: 'Warning',
  caution: 'Caution',
  must: 'You must',
  forbidden: 'Never',
  'first-aid': 'First aid',
};
