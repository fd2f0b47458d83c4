/** Where to go after signing in: a path of this site only. "//host" and "/\host" would lead elsewhere. */
export function safeNext(next: string | null): string {
  if (next === null || !/^\/(?![/\\])[\x20-\x7e]*$/.test(next)) return '/';
  return next;
}
