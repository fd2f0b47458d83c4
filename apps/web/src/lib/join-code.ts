export const CODE_LENGTH = 6;

/** A class or station code as typed: case, spaces and hyphens do not matter. */
export const tidyCode = (typed: string): string => typed.toUpperCase().replace(/[^A-Z0-9]/g, '');
