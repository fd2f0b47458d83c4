import type { Actor, Seat, Staff, Studio } from './actor.ts';
import type { Database, OrmTx, Tx } from './plugins/database/database.ts';

/** What a service gets besides its input: the open transaction, who acts, where, and when. */
export type Context<T extends Tx = Tx, A extends Actor = Actor> = { tx: T; actor: A; studio: Studio; now: Date };
export type StaffContext<T extends Tx = Tx> = Context<T, Staff>;
export type SeatContext<T extends Tx = Tx> = Context<T, Seat>;
export type OrmStaffContext = Context<OrmTx, Staff>;

/** What a service gets that opens its own transactions (sign-in, join, set-up: no studio is known yet). */
export type OpenContext = { db: Database; now: Date };
