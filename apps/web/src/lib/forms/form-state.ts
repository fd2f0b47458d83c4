/**
 * What a refused form gives back to its page. Field names are JSON pointers into the request body without the leading
 * slash ("studioName", "draft/fats/0/sharePercent"), so that a fault of the API finds its field by itself.
 */
export type FormState = {
  id: string;
  values: Record<string, string>;
  errors: Record<string, string>;
  problem: { code: string; title: string; detail: string };
};
export type MaybeForm = FormState | null | undefined;

/** The id attribute of a field's control; the error summary links to it. */
export const fieldId = (name: string): string => `f-${name.replaceAll(/[^a-zA-Z0-9]+/g, '-')}`;

/** What was typed, else what the page starts from. */
export function valueOf(form: MaybeForm, name: string, initial = ''): string {
  return form?.values[name] ?? initial;
}
