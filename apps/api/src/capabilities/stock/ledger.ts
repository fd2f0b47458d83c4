/*
 * The stock ledger. Mass is never made or lost here: every line moves it from one place to another.
 * A place is stored as text: `supplier` (the world outside), `air` (water and carbon dioxide that caustic takes up),
 * `container:<id>`, `class:<id>` (handed out), `errand:<checkout id>` (handed out for a test or for disposal),
 * `product:<class id>` (used), `jar:<id>` (the caustic in a solution jar), `waste`, `unaccounted`.
 */
export const SUPPLIER = 'supplier';
export const AIR = 'air';
export const WASTE = 'waste';
export const UNACCOUNTED = 'unaccounted';
export const containerPlace = (containerId: string): string => `container:${containerId}`;
export const classPlace = (classId: string): string => `class:${classId}`;
export const errandPlace = (checkOutId: string): string => `errand:${checkOutId}`;
export const productPlace = (classId: string): string => `product:${classId}`;
export const jarPlace = (jarId: string): string => `jar:${jarId}`;

/** Places that may stand below nothing: what lies outside the studio, and what nobody can explain. */
export const BOUNDLESS: readonly string[] = [SUPPLIER, AIR, UNACCOUNTED];

const INSIDE = ['container', 'class', 'errand', 'product', 'jar', 'waste'] as const;
/** Which ways each kind of line may go; nothing else may be posted. */
const WAYS: Record<LineKind, readonly (readonly [string, string])[]> = {
  receipt: [['supplier', 'container']],
  checkout: [
    ['container', 'class'],
    ['container', 'errand'],
  ],
  return: [
    ['class', 'container'],
    ['errand', 'container'],
  ],
  used: [
    ['class', 'product'],
    ['errand', 'waste'],
  ],
  transfer: [['container', 'container']],
  disposal: [['container', 'waste']],
  uptake: [['air', 'container']],
  jarred: [['product', 'jar']],
  'jar used': [['jar', 'product']],
  'jar wasted': [['jar', 'waste']],
  'write-off': [
    ['container', 'unaccounted'],
    ['unaccounted', 'container'],
  ],
  correction: INSIDE.flatMap((from) => INSIDE.map((to) => [from, to] as const)),
  // The mirror of a line that stands: which way that is, the store takes from the line itself.
  reversal: [...INSIDE, 'supplier', 'air', 'unaccounted'].flatMap((from) => [...INSIDE, 'supplier', 'air', 'unaccounted'].map((to) => [from, to] as const)),
};
export const LINE_KINDS = [
  'receipt',
  'checkout',
  'return',
  'used',
  'transfer',
  'disposal',
  'uptake',
  'jarred',
  'jar used',
  'jar wasted',
  'write-off',
  'correction',
  'reversal',
] as const;
export type LineKind = (typeof LINE_KINDS)[number];

export type Movement = {
  id: string;
  kind: LineKind;
  lotId: string;
  fromPlace: string;
  toPlace: string;
  massMg: number;
  scaleStepMg: number;
  /** the checkout or lot that the line belongs to */
  subjectId: string;
  reason: string;
  /** the cabinet scale that weighed it, where one was named */
  scaleId?: string | null;
  /** the line that a reversal mirrors */
  reversesSeq?: number | null;
  /** the request of one person that another approved */
  requestId?: string | null;
};

const sortOf = (place: string): string => place.split(':', 1)[0] ?? '';

/** Throws on a movement no rule allows: a fault of the program, not of a person. */
export function assertMovement(movement: Movement): void {
  const [from, to] = [sortOf(movement.fromPlace), sortOf(movement.toPlace)];
  if (movement.fromPlace === movement.toPlace || !WAYS[movement.kind].some(([a, b]) => a === from && b === to))
    throw new Error(`a ${movement.kind} does not go from ${movement.fromPlace} to ${movement.toPlace}`);
  if ((movement.kind === 'reversal') !== ((movement.reversesSeq ?? null) !== null)) throw new Error('a reversal, and nothing else, names the line it mirrors');
  if (!Number.isSafeInteger(movement.massMg) || movement.massMg <= 0) throw new Error(`a line moves whole milligrams above 0, not ${movement.massMg}`);
}

/** The ids of the containers, classes and jars that these places name. */
export function idsInPlaces(places: readonly string[]): { containerIds: string[]; classIds: string[]; jarIds: string[] } {
  const ids = (sorts: string[]) => [...new Set(places.filter((place) => sorts.includes(sortOf(place))).map((place) => place.split(':')[1] ?? ''))];
  return { containerIds: ids(['container']), classIds: ids(['class', 'product']), jarIds: ids(['jar']) };
}

/** A place as people call it; `names` holds container labels, class titles and jar numbers by id. */
export function placeInWords(place: string, names: ReadonlyMap<string, string>): string {
  const [sort, id = ''] = place.split(':');
  const name = names.get(id) ?? id;
  if (sort === 'container') return `Container ${name}`;
  if (sort === 'class') return `Class ${name}`;
  if (sort === 'jar') return `Jar ${name}`;
  if (sort === 'errand') return 'Handed out for a test or disposal';
  if (sort === 'product') return `Product of ${name}`;
  return place.charAt(0).toUpperCase() + place.slice(1);
}
