import { Fats } from '@ashwater/contracts';
import type { OwnFat, RecipeDraft } from '@ashwater/contracts';
import type { RequestEvent } from '@sveltejs/kit';
import { read } from './api.ts';

/** The own fats a recipe may name: those still offered, and those it holds already though they were retired since. */
export async function offeredFats(event: RequestEvent, draft?: RecipeDraft): Promise<(OwnFat & { retired?: true })[]> {
  const { fats } = await read(event, '/api/fats', Fats);
  const offered = fats.filter((fat) => fat.retiredAt === null).map(({ addedAt: _at, addedBy: _by, retiredAt: _on, usedBy: _in, ...own }) => own);
  const held = draft?.fats.flatMap(({ own }) => own ?? []).filter(({ id }) => !offered.some((fat) => fat.id === id)) ?? [];
  return [...offered, ...held.map((own) => ({ ...own, retired: true as const }))];
}
