import type { Actor } from '../../actor.ts';
import { KEEPERS } from '../../plugins/access.ts';
import type { Tx } from '../../plugins/database/database.ts';
import { notFound } from '../../problems/domain-problem.ts';
import { notes } from './store.ts';
import type { NoteRow } from './store.ts';

/** Who acts, as the writer of a note. */
export const asWriter = (actor: Actor) => ({
  seatId: actor.kind === 'seat' ? actor.id : null,
  accountId: actor.kind === 'staff' ? actor.id : null,
});

/** Who reads and judges what others told. */
export const isReviewer = (actor: Actor): boolean => actor.kind === 'staff' && (KEEPERS as readonly string[]).includes(actor.role);

/** A note of this studio, or 404. */
export async function requireNote({ tx, studio }: { tx: Tx; studio: { id: string } }, id: string): Promise<NoteRow> {
  const [note] = await notes(tx, studio.id, id);
  if (!note) throw notFound('The note');
  return note;
}
