import type { Caller } from './api.ts';

/** Whether a cookie of this name came along; over https its name has a prefix. What it is worth the API says. */
export const brings = (event: Pick<Caller, 'cookies'>, cookie: string): boolean => event.cookies.getAll().some(({ name }) => name.endsWith(cookie));
