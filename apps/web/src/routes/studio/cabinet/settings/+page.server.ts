import { redirect } from '@sveltejs/kit';
import { Changes, MOST_JAR_DAYS, StockSettings } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse, text } from '#lib/server/forms.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import type { Actions, PageServerLoad } from './$types';

const grams = (massMg: number): string => String(massMg / 1000);

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  const limits = await read(event, '/api/stock-settings', StockSettings);
  const { changes } = await read(event, '/api/note-changes', Changes);
  return {
    id: newId(),
    saved: event.url.searchParams.has('saved'),
    changes: changes.filter(({ target }) => target === 'limit'),
    mostJarDays: MOST_JAR_DAYS,
    start: {
      storageLimit: grams(limits.storageLimitMg),
      twoPersonOver: grams(limits.twoPersonOverMg),
      twoPersonKeys: limits.twoPersonKeys ? 'every' : 'over',
      checkoutHours: String(limits.checkoutHours),
      jarDays: String(limits.jarDays),
      sdsDays: String(limits.sdsDays),
      currency: limits.currency,
    },
  };
};

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const field = (name: string) => text(data, name);
    const body = {
      storageLimit: field('storageLimit'),
      twoPersonOver: field('twoPersonOver'),
      twoPersonKeys: field('twoPersonKeys') === 'every',
      checkoutHours: field('checkoutHours'),
      jarDays: field('jarDays'),
      sdsDays: field('sdsDays'),
      currency: field('currency'),
    };
    const answer = await write(event, '/api/stock-settings', body, StockSettings, { method: 'PUT', key: formId(data) });
    if (!answer.ok) return refuse(answer, data);
    redirect(303, '/studio/cabinet/settings?saved');
  },
};
