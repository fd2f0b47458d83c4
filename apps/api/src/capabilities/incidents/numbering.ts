import { newCode } from '../../ids.ts';
import type { Tx } from '../../plugins/database/database.ts';
import { insertNote } from './store.ts';
import type { NewNote } from './store.ts';

const TRIES = 20;

/**
 * Stores a note under a random number such as N-7KQ4. Random, not counted: a counter would be a row that every note
 * touches, and would tell how many were written between two.
 */
export async function insertNumbered(tx: Tx, studioId: string, note: Omit<NewNote, 'number'>, draw: () => string = () => newCode(4)): Promise<string> {
  for (let tries = 0; tries < TRIES; tries += 1) {
    const number = `N-${draw()}`;
    if (await insertNote(tx, studioId, { ...note, number })) return number;
  }
  throw new Error('no free number for a note was found');
}
