import { redirect } from '@sveltejs/kit';
import type { RequestEvent } from '@sveltejs/kit';
import { Created, Empty } from '@ashwater/contracts';
import { write } from './api.ts';
import { formId, refuse, text } from './forms.ts';

const path = (data: FormData) => `/api/follow-ups/${encodeURIComponent(text(data, 'followUpId'))}` as const;
const back = (event: RequestEvent, data: FormData): never => redirect(303, `${event.url.pathname}#f-${text(data, 'followUpId')}`);

/** What can be done with a follow-up, on every page that shows one. */
export const followUpActions = {
  act: async (event: RequestEvent) => {
    const data = await event.request.formData();
    const id = formId(data);
    const answer = await write(event, `${path(data)}/acts`, { id, kind: text(data, 'kind'), remark: text(data, 'remark') }, Created, { key: id });
    return answer.ok ? back(event, data) : refuse(answer, data);
  },
  give: async (event: RequestEvent) => {
    const data = await event.request.formData();
    const id = formId(data);
    const body = { id, kind: 'given', ownerId: text(data, 'ownerId'), dueOn: text(data, 'dueOn'), remark: '' };
    const answer = await write(event, `${path(data)}/acts`, body, Created, { key: id });
    return answer.ok ? back(event, data) : refuse(answer, data);
  },
  change: async (event: RequestEvent) => {
    const data = await event.request.formData();
    const id = formId(data);
    const body = {
      id,
      target: text(data, 'target'),
      recipeId: text(data, 'recipeId') || null,
      stationId: text(data, 'stationId') || null,
      stepTitle: text(data, 'stepTitle') || null,
      words: text(data, 'words'),
    };
    const answer = await write(event, `${path(data)}/changes`, body, Created, { key: id });
    return answer.ok ? back(event, data) : refuse(answer, data);
  },
  end: async (event: RequestEvent) => {
    const data = await event.request.formData();
    const answer = await write(event, `/api/note-changes/${encodeURIComponent(text(data, 'changeId'))}/end`, {}, Empty, { key: formId(data) });
    return answer.ok ? redirect(303, event.url.pathname) : refuse(answer, data);
  },
};
