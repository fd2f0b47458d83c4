import type { CheckOuts, Notes } from '@ashwater/contracts';
import type { z } from 'zod';

export type Checkout = z.output<typeof CheckOuts>['checkouts'][number];
export type NoteSummary = z.output<typeof Notes>['notes'][number];
