import type { BottleState, ContainerActKind } from '@ashwater/contracts';

/** Which acts a container in a state may take, and what it then is. Moving changes only its place. */
const NEXT: Record<BottleState, Partial<Record<ContainerActKind, BottleState>>> = {
  closed: { opened: 'opened', emptied: 'emptied', moved: 'closed' },
  opened: { closed: 'closed', emptied: 'emptied', moved: 'opened' },
  emptied: { rinsed: 'rinsed', moved: 'emptied' },
  rinsed: { disposed: 'disposed', moved: 'rinsed' },
  disposed: {},
};

export const mayBe = (state: BottleState): ContainerActKind[] => Object.keys(NEXT[state]) as ContainerActKind[];

/** Why an act cannot stand in this state; undefined when it can. */
export function refusalOf(state: BottleState, kind: ContainerActKind, label: string): string | undefined {
  if (NEXT[state][kind] !== undefined) return undefined;
  if (state === 'disposed') return `Container ${label} was disposed of. Nothing more can be recorded of it.`;
  if (kind === state) return `Container ${label} is ${state} already.`;
  if (kind === 'disposed') return `Container ${label} is ${state}. Empty it and rinse it first; then it can be disposed of.`;
  if (kind === 'rinsed') return `Container ${label} is ${state}. Only an emptied container is rinsed.`;
  return `Container ${label} is ${state}; it cannot be ${kind}.`;
}

/** Whether caustic may be in it: what was emptied or rinsed takes none again, it may be wet. */
export const holdsCaustic = (state: BottleState): boolean => state === 'closed' || state === 'opened';
