import type { CheckOuts, CountSheet, Ledger, LedgerCheck } from '@ashwater/contracts';
import type { z } from 'zod';

export type Checkout = z.output<typeof CheckOuts>['checkouts'][number];
export type SheetContainer = z.output<typeof CountSheet>['containers'][number];
export type LedgerLine = z.output<typeof Ledger>['lines'][number];
export type LedgerState = z.output<typeof LedgerCheck>;
