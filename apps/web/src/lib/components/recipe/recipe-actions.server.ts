import type { RequestEvent } from '@sveltejs/kit';
import { formId, refuse, text, typedValues } from '../../server/forms.ts';
import { editorState, fieldsOf } from './editor-state.ts';
import type { EditorState } from './editor-state.ts';
import { afterButton } from './lines.ts';
import { fieldOf, tidyDetail } from './work-out.ts';

export type RecipeForm = { data: FormData; id: string; edited: EditorState; intent: 'save' | 'publish' | 'line' };

/** Reads the editor's form. A line button asks for the same page with a line more or less; nothing is saved by it. */
export async function readRecipeForm(event: RequestEvent): Promise<RecipeForm> {
  const data = await event.request.formData();
  const edited = editorState(typedValues(data));
  const intent = data.has('line') ? 'line' : text(data, 'intent') === 'publish' ? 'publish' : 'save';
  return { data, id: formId(data), edited, intent };
}

/** The form again after a line button, for a browser without JavaScript. */
export const afterLineButton = ({ data, id, edited }: RecipeForm) => ({ id, values: fieldsOf(afterButton(edited, text(data, 'line'))) });

/** A refusal whose faults stand at the fields of the editor. */
export function refuseRecipe(answer: Parameters<typeof refuse>[0], data: FormData) {
  const typed = typedValues(data);
  const errors = answer.problem.errors?.map((fault) => {
    const name = fieldOf(fault.pointer.replace(/^\/draft/, ''));
    return { ...fault, pointer: `/${name}`, detail: tidyDetail(name, fault.detail, typed) };
  });
  return refuse({ ...answer, problem: { ...answer.problem, ...(errors ? { errors } : {}) } }, data);
}
