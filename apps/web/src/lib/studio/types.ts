import type { CheckOuts, NoteOut } from '@ashwater/contracts';

export type Checkout = ReturnType<(typeof CheckOuts)['parse']>['checkouts'][number];
export type NoteSummary = Pick<NoteOut, 'id' | 'number' | 'kind' | 'signing' | 'what' | 'place' | 'happenedOn' | 'reviewed'>;
