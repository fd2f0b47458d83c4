import { REVERSIBLE_KINDS } from '@ashwater/contracts';
import { timeOf } from '../time.ts';

const KINDS: Record<string, string> = {
  receipt: 'Received',
  checkout: 'Handed out',
  return: 'Taken back',
  used: 'Used',
  transfer: 'Moved to another container',
  disposal: 'Disposed of',
  uptake: 'Taken up from the air',
  jarred: 'Filled into a jar',
  'jar used': 'Used from a jar',
  'jar wasted': 'Jar neutralised or disposed of',
  'write-off': 'Written off',
  correction: 'Corrected',
  reversal: 'Reversed',
};

/** What a line of the ledger did, in a word of the studio; an unknown kind shows as it is. */
export const kindInWords = (kind: string): string => KINDS[kind] ?? kind;

/** Where a wrong line is put right: by its mirror where it stands for itself and has none yet, else by a correction about it. */
export const putRightPath = (line: { seq: number; kind: string }): string =>
  `/studio/cabinet/requests/new?kind=${REVERSIBLE_KINDS.includes(line.kind) ? 'reversal' : 'correction'}&seq=${line.seq}`;

/** "2026-11-25 14:30" in an IANA zone: sorts, and spreadsheets read it as a date. */
export function sortableTime(at: string, zone: string): string {
  const day = new Intl.DateTimeFormat('en-CA', { timeZone: zone, year: 'numeric', month: '2-digit', day: '2-digit' }).format(new Date(at));
  return `${day} ${timeOf(at, zone)}`;
}
