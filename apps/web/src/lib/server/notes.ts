import { text } from './forms.ts';

/** What a reporter told, as both kinds of note take it. */
export function toldIn(data: FormData, id: string) {
  return {
    id,
    kind: text(data, 'kind') || 'near miss',
    place: text(data, 'place'),
    stepTitle: text(data, 'stepTitle'),
    what: text(data, 'what'),
    whatStoppedIt: text(data, 'whatStoppedIt'),
    doneAtOnce: text(data, 'doneAtOnce'),
  };
}
