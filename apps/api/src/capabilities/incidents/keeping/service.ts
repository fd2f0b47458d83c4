import type { ChangeNoteSettings, NoteSettings } from '@ashwater/contracts';
import { parseDecimal } from '@ashwater/formulation';
import { dayIn } from '../../../days.ts';
import { newCode } from '../../../ids.ts';
import { inputRefused } from '../../../problems/domain-problem.ts';
import type { StaffContext } from '../../../request-context.ts';
import type { Database, Tx } from '../../../plugins/database/database.ts';
import { audit, auditAs } from '../../audit/service.ts';
import * as store from './store.ts';

export const readNoteSettings = ({ tx, studio }: StaffContext): Promise<NoteSettings> => store.settings(tx, studio.id);

const WALL_SIGNS = 8;
const LONGEST_DAYS = 36_500;
function readDays(text: string, pointer: string, name: string): number {
  const read = parseDecimal(text, { name, min: 1, max: LONGEST_DAYS, maxDecimals: 0 });
  if (!read.ok) throw inputRefused(pointer, read.problems[0]?.detail ?? 'Write a whole number of days.');
  return read.value.value;
}

/** How long names and notes are kept. Blanking follows the rule that stands then; what is blanked does not come back. */
export async function changeNoteSettings(context: StaffContext, input: ChangeNoteSettings): Promise<NoteSettings> {
  const noteKeepDays = readDays(input.noteKeepDays, '/noteKeepDays', 'The days a note is kept');
  const nameKeepDays = readDays(input.nameKeepDays, '/nameKeepDays', 'The days a name is kept');
  if (nameKeepDays > noteKeepDays) throw inputRefused('/nameKeepDays', 'A name is never kept longer than its note.');
  const { tx, studio } = context;
  const before = await store.settings(tx, studio.id);
  await store.setKeepDays(tx, studio.id, noteKeepDays, nameKeepDays);
  await audit(context, 'changed how long notes are kept', `studio:${studio.id}`, {
    notesWere: before.noteKeepDays,
    notes: noteKeepDays,
    namesWere: before.nameKeepDays,
    names: nameKeepDays,
  });
  return store.settings(tx, studio.id);
}

/** A new code for the wall. The printed one before it leads nowhere from then on. */
export async function newWallCode(context: StaffContext): Promise<NoteSettings> {
  const { tx, studio } = context;
  await store.setWallCode(tx, studio.id, newCode(WALL_SIGNS));
  await audit(context, 'made a new wall code', `studio:${studio.id}`);
  return store.settings(tx, studio.id);
}

type Blanked = { names: number; notes: number };
async function blank(tx: Tx, studioId: string, today: string): Promise<Blanked> {
  const names = await store.blankNames(tx, studioId, today);
  return { names, notes: await store.blankNotes(tx, studioId, today) };
}
const BLANKED = 'blanked old notes';

/** Blanks what is past the studio's rule: names first, then the words of notes. Numbers, kinds and days stay for the figures. */
export async function blankWhatIsPast(context: StaffContext): Promise<Blanked> {
  const { tx, studio, now } = context;
  const blanked = await blank(tx, studio.id, dayIn(studio.timeZone, now));
  await audit(context, BLANKED, `studio:${studio.id}`, blanked);
  return blanked;
}

/** The same without anybody asking; the audit tells of it when there was something to blank. */
export function blankInStudio(db: Database, studioId: string, now: Date): Promise<Blanked> {
  return db.transact(studioId, async (tx) => {
    const blanked = await blank(tx, studioId, dayIn(await store.timeZone(tx, studioId), now));
    if (blanked.names + blanked.notes > 0)
      await auditAs(tx, { studioId, at: now, actor: 'the service', action: BLANKED, subject: `studio:${studioId}`, detail: blanked });
    return blanked;
  });
}
