import { newId } from '../ids.ts';
import { ok } from './classroom.ts';
import type { People } from './test-studio.ts';

/** A picture of one pixel: a PNG written by hand (PNG specification, W3C; 8-bit RGB). */
export const ONE_PIXEL = 'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAIAAACQd1PeAAAADElEQVR4nGP4z8AAAAMBAQDJ/pLvAAAAAElFTkSuQmCC';

export type Notes = { noteId: string; returnCode: string; pictureId: string; followUpId: string; changeId: string };

/** Notes in all three signings with everything that can follow one, so that every table has rows of it. */
export async function fillNotes(
  { as, ids }: People,
  room: { classId: string; joinCode: string; lotId: string },
  text: (what: string) => string,
): Promise<Notes> {
  const told = (what: string) => ({
    id: newId(),
    kind: 'near miss',
    harms: ['spill'],
    whenWords: text('before the break'),
    place: text('sink'),
    stepTitle: text('step'),
    what: text(what),
    how: text('slipped'),
    whatStoppedIt: text('goggles'),
    doneAtOnce: text('water'),
  });
  const note = { ...told('cup at the edge'), classId: room.classId };
  await ok(as.instructor.post('/api/notes', note));
  await ok(as.assistant.post('/api/notes', { ...told('told in confidence'), classId: room.classId, signing: 'confidential' }));
  await ok(as.manager.post(`/api/notes/${note.id}/reviews`, { id: newId(), outcome: 'change made', learned: text('learned'), change: text('change') }));
  const { returnCode } = await ok<{ returnCode: string }>(as.nobody.post('/api/notes/anonymous', { ...told('fumes'), code: room.joinCode }));
  await ok(as.instructor.post(`/api/notes/${note.id}/amendments`, { id: newId(), text: text('amended') }));
  const pictureId = newId();
  await ok(as.instructor.post(`/api/notes/${note.id}/pictures`, { id: pictureId, base64: ONE_PIXEL }));
  const judged = { actual: 'none', potential: 'serious', category: 'spill', causes: ['method'], staff: false };
  await ok(
    as.manager.post(`/api/notes/${note.id}/triage`, { id: newId(), ...judged, classId: room.classId, cardId: null, lotId: room.lotId, containerId: null }),
  );
  const twin = { ...told('cup at the edge, too'), classId: null };
  await ok(as.assistant.post('/api/notes', twin));
  await ok(as.manager.post(`/api/notes/${twin.id}/merge`, { id: newId(), intoId: note.id }));
  const [followUpId, changeId] = [newId(), newId()];
  const ownerId = ids.instructor;
  await ok(
    as.manager.post('/api/follow-ups', { id: followUpId, noteId: note.id, what: text('a tray with an edge'), kind: 'guard', ownerId, dueOn: '2099-01-31' }),
  );
  const change = { target: 'recipe', recipeId: null, stationId: null, stepTitle: null, words: text('tray under the cup') };
  await ok(as.manager.post(`/api/follow-ups/${followUpId}/changes`, { id: changeId, ...change, target: 'limit' }));
  await ok(as.manager.put('/api/staff-hours', { month: '2026-01', hours: '160' }));
  return { noteId: note.id, returnCode, pictureId, followUpId, changeId };
}
