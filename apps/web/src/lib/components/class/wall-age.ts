/** Three questions without an answer. */
const STALE_MS = 15_000;
export const isStale = (ageMs: number): boolean => ageMs > STALE_MS;

/** "7 s", "2 min 05 s", "1 h 04 min": seconds as long as they matter. */
export function ageWords(ageMs: number): string {
  const seconds = Math.max(0, Math.floor(ageMs / 1000));
  const two = (n: number) => String(n).padStart(2, '0');
  if (seconds < 60) return `${seconds}\u00a0s`;
  if (seconds < 3600) return `${Math.floor(seconds / 60)}\u00a0min ${two(seconds % 60)}\u00a0s`;
  return `${Math.floor(seconds / 3600)}\u00a0h ${two(Math.floor((seconds % 3600) / 60))}\u00a0min`;
}
