import { PRIORITIES } from '@ashwater/contracts';
import type { NoteOut, TriageNote, TriageOut } from '@ashwater/contracts';
import { DomainProblem, inputRefused, notFound } from '../../../problems/domain-problem.ts';
import type { StaffContext } from '../../../request-context.ts';
import { audit } from '../../audit/service.ts';
import { announce } from '../../live/service.ts';
import { requireNote } from '../note-of.ts';
import type { NoteRow } from '../store.ts';
import * as store from './store.ts';

/** Judges a note: how bad, how bad it could have been, what kind, why, and what it was about. Judged again, the newest counts and the earlier stays. */
export async function triageNote(context: StaffContext, noteId: string, input: TriageNote): Promise<{ id: string }> {
  const { tx, studio, actor, now } = context;
  await requireNote(context, noteId);
  const [missing] = await store.missing(tx, studio.id, input);
  if (missing) throw notFound(`What is named at ${missing}`);
  if (input.actual === 'grave' && input.potential !== 'grave') throw inputRefused('/potential', 'It could not have been less grave than it was.');
  await store.insertTriage(tx, studio.id, { ...input, noteId, accountId: actor.id, at: now });
  await audit(context, 'judged a note', `note:${noteId}`, { actual: input.actual, potential: input.potential, category: input.category });
  await announce(context, { kind: 'note-reviewed', subjectId: noteId });
  return { id: input.id };
}

export async function triageOf({ tx, studio }: StaffContext, noteId: string): Promise<TriageOut | null> {
  const row = await store.triage(tx, studio.id, noteId);
  if (!row) return null;
  const { actual, potential, category, causes, staff, byName, at } = row;
  const about = (
    [
      ['class', row.classId, row.classTitle],
      ['card', row.cardId, row.cardNumber],
      ['lot', row.lotId, row.lotName],
      ['container', row.containerId, row.containerLabel],
    ] as const
  ).flatMap(([sort, id, name]) => (id === null ? [] : [{ sort, id, name: name ?? '' }]));
  return { actual, potential, priority: PRIORITIES[actual][potential], category, causes, staff, about, byName, at: at.toISOString() };
}

const merged = (detail: string) => new DomainProblem('note-merged', detail, [{ pointer: '/intoId', detail }]);

/** Says that a note tells of the same thing as another, or that it does not after all. Both stay as they are, and each leads to the other. */
export async function mergeNote(context: StaffContext, noteId: string, { id, intoId }: { id: string; intoId: string | null }): Promise<{ id: string }> {
  const { tx, studio, actor, now } = context;
  const note = await requireNote(context, noteId);
  await store.holdMerges(tx, studio.id);
  if (intoId !== null) {
    const kept = await requireNote(context, intoId);
    if (intoId === noteId) throw inputRefused('/intoId', 'A note tells of the same thing as itself. Choose another note.');
    if (kept.toldWithId !== null) throw merged(`${kept.number} was itself told with another note. Choose that one.`);
    if ((await store.sameAs(tx, studio.id, noteId)).length > 0)
      throw merged(`Other notes were told with ${note.number}. Put ${kept.number} with ${note.number} instead.`);
  }
  await store.insertMerge(tx, studio.id, { id, noteId, intoId, accountId: actor.id, at: now });
  await audit(context, intoId === null ? 'took a note apart from another' : 'put a note with another', `note:${noteId}`, { into: intoId });
  return { id };
}

export async function choicesOf({ tx, studio }: StaffContext, note: NoteRow): Promise<NoteOut['choices']> {
  return { ...(await store.choices(tx, studio.id, note.id, note.classId)), steps: await store.stepTitles(tx, studio.id) };
}
