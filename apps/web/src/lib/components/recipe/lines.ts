import type { EditorState, List } from './editor-state.ts';
import { MOST } from './editor-state.ts';
import { mouldOf } from './mould-form.ts';

const BLANK = {
  fats: { fatKey: '', sharePercent: '', certificateSv: '', certificateUncertainty: '', certificateOn: '', late: false },
  liquids: { liquidKey: '', shareOfWaterPercent: '', intoFatsPercent: '' },
  acids: { acidKey: '', shareOfFatPercent: '', strengthPercent: '', strengthUncertainty: '' },
  additives: { name: '', shareOfFatPercent: '', limitPercent: '' },
};

/** The lists a named submit button adds to or removes from: "add fats", "remove fats 2". Anything that is no command changes nothing. */
export function changeLines(state: EditorState, command: string): EditorState {
  const [verb, list, index] = command.split(' ');
  if (list === undefined || !Object.hasOwn(MOST, list)) return state;
  const key = list as List;
  const lines = state.draft[key];
  const at = Number(index);
  const next = verb === 'add' ? [...lines, { ...BLANK[key] }] : verb === 'remove' ? lines.filter((_, i) => i !== at) : lines;
  return { ...state, draft: { ...state.draft, [key]: next } };
}

/** What a button of the form does to its state: a line more or less, or the measured mould as the one to try. */
export function afterButton(state: EditorState, command: string): EditorState {
  if (command !== 'mould') return changeLines(state, command);
  const volume = mouldOf(state.mould);
  return volume.ok ? { ...state, mouldMl: String(volume.value.volumeMl) } : state;
}
