import { error } from '@sveltejs/kit';

/** Owner and manager keep the cabinet, the notes and the list of people. */
export function isKeeper({ staff }: App.Locals): boolean {
  return staff?.role === 'owner' || staff?.role === 'manager';
}

/** The API checks again; this spares somebody a form that could not be sent. */
export function requireKeeper(locals: App.Locals): void {
  if (isKeeper(locals)) return;
  error(403, 'This is for the owner and the manager', { code: 'not-allowed', detail: 'Ask them to do it, or to give you that role.' });
}
