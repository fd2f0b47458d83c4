import { createHash } from 'node:crypto';
import { CLEAR_SIGNS as SIGNS, newCode } from '../../ids.ts';

const LENGTH = 10;
const sha256 = (text: string): Buffer => createHash('sha256').update(text).digest();

/**
 * The code by which somebody asks what became of an anonymous note. It is made from the id that the sender chose, which
 * is kept nowhere, so that the same note sent twice gets the same code and only its hash has to be stored.
 * Ten signs of 23 give 4e13 codes.
 */
export function returnCodeOf(clientId: string): string {
  // bytes from 230 on would make some signs likelier than others: 230 = 10 x 23
  const even = [...sha256(`return${clientId.toLowerCase()}`)].filter((byte) => byte < SIGNS.length * 10);
  return even
    .slice(0, LENGTH)
    .map((byte) => SIGNS[byte % SIGNS.length])
    .join('');
}

/** For a note whose id is stored: its code must not follow from it, or whoever reads the note could answer as its writer. */
export const newReturnCode = (): string => newCode(LENGTH);

export const returnHashOf = (returnCode: string): string => sha256(returnCode).toString('hex');
