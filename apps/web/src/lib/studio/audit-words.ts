const KINDS: Record<string, string> = {
  account: 'person',
  seat: 'seat',
  class: 'class',
  card: 'weigh card',
  lot: 'lot',
  checkout: 'hand-out',
  count: 'count',
  jar: 'jar',
  note: 'note',
  recipe: 'recipe',
  fat: 'fat',
  version: 'recipe version',
  station: 'station',
  studio: 'studio',
};

/** "lot:0192..." as "lot" and the end of its id, which tells two of a kind apart. */
export function subjectInWords(subject: string): { kind: string; id: string } {
  const [kind = '', id = ''] = subject.split(':', 2);
  return { kind: KINDS[kind] ?? kind, id: id.slice(-6) };
}
