import { Cards } from '@ashwater/contracts';
import { read } from '#lib/server/api.ts';
import { qrCode } from '#lib/server/qr.ts';
import type { PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  const { cards } = await read(event, `/api/classes/${event.params.id}/cards`, Cards);
  const only = event.url.searchParams.get('card');
  const valid = cards.filter((card) => !card.voided && (only === null || card.id === only));
  return {
    classId: event.params.id,
    cards: valid.map((card) => ({ card, qr: qrCode(`${event.url.origin}/join/${card.joinCode}`) })),
    printedAt: new Date().toISOString(),
  };
};
