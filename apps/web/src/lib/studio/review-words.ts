import type { Cause, ChangeOut, FollowUpKind, FollowUpOut, NoteCategory, NoteOut, Severity } from '@ashwater/contracts';

export const SEVERITIES: { value: Severity; label: string }[] = [
  { value: 'none', label: 'None: nobody and nothing' },
  { value: 'slight', label: 'Slight: water, a plaster, a rag' },
  { value: 'serious', label: 'Serious: medical help, or a bench out of use' },
  { value: 'grave', label: 'Grave: a lasting injury, or worse' },
];
export const CATEGORIES: { value: NoteCategory; label: string }[] = [
  { value: 'contact with caustic', label: 'Contact with caustic' },
  { value: 'spill', label: 'Spill' },
  { value: 'heat or boiling over', label: 'Heat, or boiling over' },
  { value: 'wrong weighing or mix-up', label: 'Wrong weighing, or a mix-up' },
  { value: 'gear', label: 'Gear' },
  { value: 'storage or label', label: 'Storage or label' },
  { value: 'trip or fall', label: 'Trip or fall' },
  { value: 'other', label: 'Something else' },
];
export const CAUSES: { value: Cause; label: string }[] = [
  { value: 'equipment', label: 'Equipment: tools, scales, gear' },
  { value: 'method', label: 'Method: order of the steps, how it is taught' },
  { value: 'material', label: 'Material: what was in the pot or the jar' },
  { value: 'surroundings', label: 'Surroundings: room, light, noise, space' },
  { value: 'organisation', label: 'Organisation: time, numbers, who was there' },
  { value: 'person', label: 'Person: tired, new, unsure. Ask what made it likely' },
];
export const CONTROLS: { value: FollowUpKind; label: string }[] = [
  { value: 'remove', label: 'Remove the danger (strongest)' },
  { value: 'replace', label: 'Replace it by something milder' },
  { value: 'guard', label: 'Guard: keep people and danger apart' },
  { value: 'procedure', label: 'Procedure: another way of doing it' },
  { value: 'gear', label: 'Gear (weakest)' },
];
export const STATE_WORDS: Record<FollowUpOut['state'], string> = {
  open: 'Open',
  overdue: 'Past its day',
  done: 'Done, another person looks at it',
  verified: 'Done and looked at',
};
export const TARGETS: { value: ChangeOut['target']; label: string }[] = [
  { value: 'step', label: 'A step of the weigh card' },
  { value: 'gear', label: 'The gear everybody wears' },
  { value: 'recipe', label: 'A recipe' },
  { value: 'station', label: 'A station’s set-up' },
  { value: 'limit', label: 'A limit or rule of the studio' },
];
export const targetWords = (change: ChangeOut): string =>
  change.target === 'step' ? `Step “${change.stepTitle ?? ''}”` : (TARGETS.find(({ value }) => value === change.target)?.label ?? '');
export const optionsOf = (rows: NoteOut['choices']['classes'], none: string) => [
  { value: '', label: none },
  ...rows.map(({ id, name }) => ({ value: id, label: name })),
];
