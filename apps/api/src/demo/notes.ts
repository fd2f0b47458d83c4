import type { Client } from './client.ts';

type Reporters = { clock: { forward(minutes: number): void }; owner: Client; instructor: Client; manager: Client; id(): string };
const DAY = 60 * 24;

/** A near miss of one class, looked into: a tray on every station, which stands on each card since, and a follow-up that is late. */
export async function notesOf({ clock, owner, instructor, manager, id }: Reporters, classId: string, day: (days: number) => string): Promise<void> {
  const [noteId, twinId, trayId, lightId] = [id(), id(), id(), id()];
  await instructor.post('/api/notes', {
    id: noteId,
    kind: 'near miss',
    classId,
    place: 'Station 5',
    stepTitle: 'Add the lye to the liquid',
    what: 'The cup with the lye stood at the edge of the bench and was nearly swept off by a sleeve.',
    how: 'There is no room beside the scale, so the cup goes where the bench ends.',
    whatStoppedIt: 'The neighbour saw it and said stop.',
    doneAtOnce: 'Moved the cup to the middle of the tray.',
  });
  await instructor.post('/api/notes', {
    id: twinId,
    kind: 'near miss',
    classId,
    signing: 'confidential',
    place: 'Station 2',
    stepTitle: 'Add the lye to the liquid',
    what: 'Nobody had room for the cup there either. I have seen it before and said nothing.',
    whatStoppedIt: '',
    doneAtOnce: '',
  });
  clock.forward(DAY);
  const judged = { actual: 'none', potential: 'grave', category: 'spill', causes: ['surroundings', 'method'], staff: false };
  await manager.post(`/api/notes/${noteId}/triage`, { id: id(), ...judged, classId, cardId: null, lotId: null, containerId: null });
  await manager.post(`/api/notes/${twinId}/merge`, { id: id(), intoId: noteId });
  await manager.post(`/api/notes/${noteId}/reviews`, {
    id: id(),
    outcome: 'change made',
    learned: 'A cup near the edge is within reach of every sleeve that passes.',
    change: 'A tray with a rim on every station; the cup stands in it from weighing to pouring.',
  });
  const people = await owner.get<{ people: { id: string; role: string }[] }>('/api/people');
  const ownerId = people.people.find(({ role }) => role === 'instructor')!.id;
  const open = (followUpId: string, what: string, kind: string, dueOn: string) =>
    manager.post('/api/follow-ups', { id: followUpId, noteId, what, kind, ownerId, dueOn });
  await open(trayId, 'A tray with a rim on every station', 'guard', day(-6));
  await open(lightId, 'A shelf above the bench, so that nothing but the cup stands there', 'remove', day(-2));
  await instructor.post(`/api/follow-ups/${trayId}/acts`, { id: id(), kind: 'done', remark: 'Six trays bought, one stands on every bench.' });
  await manager.post(`/api/follow-ups/${trayId}/acts`, { id: id(), kind: 'verified', remark: 'Counted six, each with its rim up.' });
  const words = 'The cup stands in the tray with the rim, from weighing to pouring.';
  const change = { target: 'step', recipeId: null, stationId: null, stepTitle: 'Add the lye to the liquid', words };
  await manager.post(`/api/follow-ups/${trayId}/changes`, { id: id(), ...change });
}

/** Something small, told today, that nobody has looked into yet; and a code for the wall. */
export async function latestNote({ instructor, manager, id }: Reporters): Promise<void> {
  await instructor.post('/api/notes', {
    id: id(),
    kind: 'near miss',
    classId: null,
    place: 'Cabinet',
    stepTitle: '',
    what: 'The lid of a jar was screwed on crooked: it looked closed and was not.',
    whatStoppedIt: 'Gloves.',
    doneAtOnce: 'Closed it and wiped the shelf.',
  });
  await manager.post('/api/note-settings/wall-code', {});
}
