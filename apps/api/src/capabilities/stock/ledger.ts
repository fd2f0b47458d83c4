/*
 * The stock ledger. Mass is never made or lost here: every line moves it from one place to another.
 * A place is stored as text: `supplier` (the world outside), `container:<id>`, `class:<id>` (handed out),
 * `product:<class id>` (used), `waste`, `unaccounted`.
 */
export const SUPPLIER = 'supplier';
export const containerPlace = (containerId: string): string => `container:${containerId}`;
export const classPlace = (classId: string): string => `class:${classId}`;
export const productPlace = (classId: string): string => `product:${classId}`;

/** Which way each kind of line goes; nothing else may be posted. */
const WAYS = {
  receipt: ['supplier', 'container'],
  checkout: ['container', 'class'],
  return: ['class', 'container'],
  used: ['class', 'product'],
} as const;

export type Movement = {
  id: string;
  kind: keyof typeof WAYS;
  lotId: string;
  fromPlace: string;
  toPlace: string;
  massMg: number;
  scaleStepMg: number;
  /** the checkout or lot that the line belongs to */
  subjectId: string;
  reason: string;
};

const sortOf = (place: string): string => place.split(':', 1)[0] ?? '';

/** Throws on a movement no rule allows: a fault of the program, not of a person. */
export function assertMovement(movement: Movement): void {
  const [from, to] = WAYS[movement.kind];
  if (sortOf(movement.fromPlace) !== from || sortOf(movement.toPlace) !== to)
    throw new Error(`a ${movement.kind} goes from a ${from} to a ${to}, not from ${movement.fromPlace} to ${movement.toPlace}`);
  if (!Number.isSafeInteger(movement.massMg) || movement.massMg <= 0) throw new Error(`a line moves whole milligrams above 0, not ${movement.massMg}`);
}

/** The ids of the containers and classes that these places name. */
export function idsInPlaces(places: readonly string[]): { containerIds: string[]; classIds: string[] } {
  const ids = (sorts: string[]) => [...new Set(places.filter((place) => sorts.includes(sortOf(place))).map((place) => place.split(':')[1] ?? ''))];
  return { containerIds: ids(['container']), classIds: ids(['class', 'product']) };
}

/** A place as people call it; `names` holds container labels and class titles by id. */
export function placeInWords(place: string, names: ReadonlyMap<string, string>): string {
  const [sort, id = ''] = place.split(':');
  const name = names.get(id) ?? id;
  if (sort === 'container') return `Container ${name}`;
  if (sort === 'class') return `Class ${name}`;
  if (sort === 'product') return `Product of ${name}`;
  return place.charAt(0).toUpperCase() + place.slice(1);
}
