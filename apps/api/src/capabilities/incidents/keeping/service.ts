import type { ChangeNoteSettings, NoteSettings } from '@ashwater/contracts';
import { parseDecimal } from '@ashwater/formulation';
import type { Studio } from '../../../actor.ts';
import { dayIn } from '../../../days.ts';
import { newCode } from '../../../ids.ts';
import type { Database, Tx } from '../../../plugins/database/database.ts';
import { inputRefused } from '../../../problems/domain-problem.ts';
import type { StaffContext } from '../../../request-context.ts';
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
const BLANKED = 'blanked old notes';
async function blank(tx: Tx, studio: Studio, now: Date): Promise<Blanked> {
  const today = dayIn(studio.timeZone, now);
  const names = await store.blankNames(tx, studio.id, today);
  return { names, notes: await store.blankNotes(tx, studio.id, today) };
}

/** Blanks what is past the studio's rule: names first, then the words of notes. Numbers, kinds and days stay for the figures. */
export async function blankWhatIsPast(context: StaffContext): Promise<Blanked> {
  const { tx, studio, now } = context;
  const blanked = await blank(tx, studio, now);
  await audit(context, BLANKED, `studio:${studio.id}`, blanked);
  return blanked;
}

/** The same without anybody asking; the audit tells of it when there was something to blank. */
export function blankInStudio(db: Database, studio: Studio, now: Date): Promise<void> {
  return db.transact(studio.id, async (tx) => {
    const blanked = await blank(tx, studio, now);
    if (blanked.names + blanked.notes === 0) return;
    await auditAs(tx, { studioId: studio.id, at: now, actor: 'the service', action: BLANKED, subject: `studio:${studio.id}`, detail: blanked });
  });
}
