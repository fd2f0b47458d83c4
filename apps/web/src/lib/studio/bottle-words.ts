import type { BottleState, ContainerActKind } from '@ashwater/contracts';

export const STATE_WORDS: Record<BottleState, string> = { closed: 'closed', opened: 'open', emptied: 'emptied', rinsed: 'rinsed', disposed: 'disposed of' };

/** What was done to a container, as a sentence begins. */
export const ACT_WORDS: Record<ContainerActKind, string> = {
  opened: 'Opened',
  closed: 'Closed',
  emptied: 'Emptied',
  rinsed: 'Rinsed',
  disposed: 'Disposed of',
  moved: 'Moved to another place',
};

/** Acts that cannot be taken back get a second look. */
export const isFinal = (kind: string): boolean => kind === 'emptied' || kind === 'rinsed' || kind === 'disposed';
