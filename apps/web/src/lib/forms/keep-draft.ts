/*
 * A form half done, kept for this tab alone: closing the tab forgets it, and so does sending it. Nothing of it goes to the service, and no other
 * page can read it. Files are not kept: a browser does not let a page put one back.
 */
const START = 'draft:';
const keyOf = (name: string): string => `${START}${name}`;

type Store = Pick<Storage, 'getItem' | 'setItem' | 'removeItem'>;
/** A browser may refuse its storage altogether: then the form works without a draft. */
function storage(): Store | null {
  try {
    return window.sessionStorage;
  } catch {
    return null;
  }
}

const isKept = (field: Element): field is HTMLInputElement | HTMLTextAreaElement | HTMLSelectElement =>
  (field instanceof HTMLInputElement && !['hidden', 'file', 'password', 'submit'].includes(field.type)) ||
  field instanceof HTMLTextAreaElement ||
  field instanceof HTMLSelectElement;

/** What of a form is kept, by name; of a choice the one taken, of a box only that it is ticked. */
export function valuesOf(form: HTMLFormElement): Record<string, string> {
  const values: Record<string, string> = {};
  for (const field of form.elements) {
    if (!isKept(field) || field.name === '') continue;
    if (field instanceof HTMLInputElement && (field.type === 'radio' || field.type === 'checkbox')) {
      if (field.checked) values[field.name] = field.value;
    } else if (field.value !== '') values[field.name] = field.value;
  }
  return values;
}

function putBack(form: HTMLFormElement, values: Record<string, string>): void {
  for (const field of form.elements) {
    if (!isKept(field)) continue;
    const value = values[field.name];
    if (field instanceof HTMLInputElement && field.type === 'radio') field.checked = value === field.value;
    else if (field instanceof HTMLInputElement && field.type === 'checkbox') field.checked = value !== undefined;
    else if (value !== undefined) field.value = value;
    else continue;
    // The fields are bound: they learn of it as if it had been typed.
    field.dispatchEvent(
      new Event(field instanceof HTMLSelectElement || field.type === 'radio' || field.type === 'checkbox' ? 'change' : 'input', { bubbles: true }),
    );
  }
}

/** Everything half done in this tab: somebody else sits down at it. */
export function forgetAllDrafts(): void {
  const store = storage();
  if (store instanceof Storage) for (const key of Object.keys(store)) if (key.startsWith(START)) store.removeItem(key);
}

export function forgetDraft(name: string, store: Store | null = storage()): void {
  store?.removeItem(keyOf(name));
}

/** Puts a kept draft back, unless the page brings values itself, and keeps what is typed from now on. @returns what stops it */
export function keepDraft(form: HTMLFormElement, name: string, hasValues: boolean, store: Store | null = storage()): () => void {
  const kept = store?.getItem(keyOf(name));
  if (kept && !hasValues) putBack(form, JSON.parse(kept) as Record<string, string>);
  const keep = () => store?.setItem(keyOf(name), JSON.stringify(valuesOf(form)));
  form.addEventListener('input', keep);
  form.addEventListener('change', keep);
  return () => {
    form.removeEventListener('input', keep);
    form.removeEventListener('change', keep);
  };
}
