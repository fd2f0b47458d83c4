import { Classes, ClassOut, NoteFiled } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { formId, refuse, text } from '#lib/server/forms.ts';
import { isKeeper } from '#lib/server/keepers.ts';
import { addPictureOf, toldIn } from '#lib/server/notes.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  const { classes } = await read(event, '/api/classes', Classes);
  const held = classes.filter(({ status }) => status === 'published' || status === 'closed').sort((a, b) => b.startsAt.localeCompare(a.startsAt));
  // A note without a name goes in by a class's code, which says which studio it is and nothing else.
  const [newest] = held;
  const anonymousCode = newest ? (await read(event, `/api/classes/${newest.id}`, ClassOut)).joinCode : null;
  return { id: newId(), classes: held, classId: event.url.searchParams.get('classId') ?? '', anonymousCode, keeper: isKeeper(event.locals) };
};

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const answer = await write(
      event,
      '/api/notes',
      { ...toldIn(data, id), classId: text(data, 'classId') || null, signing: text(data, 'signing') || 'named' },
      NoteFiled,
      { key: id },
    );
    if (!answer.ok) return refuse(answer, data);
    return { filed: answer.value, pictureFault: await addPictureOf(event, data, answer.value.id) };
  },
};
