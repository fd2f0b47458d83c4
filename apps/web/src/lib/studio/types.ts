import type { CheckOuts } from '@ashwater/contracts';

export type Checkout = ReturnType<(typeof CheckOuts)['parse']>['checkouts'][number];
export type { NoteSummary } from '@ashwater/contracts';
