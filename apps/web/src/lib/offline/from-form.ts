import { HARMS } from '../components/note-words.ts';
import type { Deed } from './act.ts';

const STEP = /^\/station\/step\/(\d+)$/;

/**
 * The deed in a form of a station page that got no answer, with the id it was sent with; null for a form whose act cannot
 * wait (leaving the station). `action`: the address the form posts to.
 */
export function deedOf(action: URL, data: FormData): { id: string; deed: Deed } | null {
  const text = (name: string) => String(data.get(name) ?? '');
  const id = text('id');
  const stepNo = Number(STEP.exec(action.pathname)?.[1]);
  const cardId = text('cardId');
  const deed = ((): Deed | null => {
    if (action.pathname === '/station/stop') return { kind: 'stop', reason: text('reason') };
    if (action.pathname === '/station/note') return { kind: 'note', told: toldIn(text) };
    if (action.search.startsWith('?/confirm')) return { kind: 'gear', itemKey: text('itemKey') };
    if (!Number.isInteger(stepNo) || cardId === '') return null;
    if (action.search.startsWith('?/reading')) return { kind: 'reading', cardId, stepNo, entered: text('entered'), supersedesId: text('supersedesId') || null };
    if (action.search.startsWith('?/done')) return { kind: 'done', cardId, stepNo };
    if (action.search.startsWith('?/jar')) return { kind: 'jar', cardId, stepNo, mass: text('mass') };
    return null;
  })();
  return deed && id !== '' ? { id, deed } : null;
}

/** The fields of a note, in the order the live page sends them. */
export function toldIn(text: (name: string) => string) {
  return {
    kind: text('kind') === 'incident' ? ('incident' as const) : ('near miss' as const),
    harms: HARMS.map(({ value }) => value).filter((harm) => text(`harm/${harm}`) !== ''),
    whenWords: text('whenWords'),
    signing: text('signing') === 'confidential' ? ('confidential' as const) : ('named' as const),
    place: text('place'),
    stepTitle: text('stepTitle'),
    what: text('what'),
    how: text('how'),
    whatStoppedIt: text('whatStoppedIt'),
    doneAtOnce: text('doneAtOnce'),
  };
}
