import type { EditorState } from './editor-state.ts';

/** The lists a named submit button adds to or removes from: "add fats", "remove fats 2". */
type List = 'fats' | 'liquids' | 'additives';
const LISTS: readonly string[] = ['fats', 'liquids', 'additives'];

const BLANK = {
  fats: { fatKey: '', sharePercent: '', certificateSv: '', certificateUncertainty: '', certificateOn: '' },
  liquids: { liquidKey: '', shareOfWaterPercent: '' },
  additives: { name: '', shareOfFatPercent: '', limitPercent: '' },
};

/** The state with one line more or less; anything that is no command changes nothing. */
export function changeLines(state: EditorState, command: string): EditorState {
  const [verb, list, index] = command.split(' ');
  if (list === undefined || !LISTS.includes(list)) return state;
  const key = list as List;
  const lines = state.draft[key];
  const at = Number(index);
  const next = verb === 'add' ? [...lines, { ...BLANK[key] }] : verb === 'remove' ? lines.filter((_, i) => i !== at) : lines;
  return { ...state, draft: { ...state.draft, [key]: next } };
}
