import { redirect } from '@sveltejs/kit';
import { Cabinet, CabinetScales, CountOut, CountSheet } from '@ashwater/contracts';
import { newId } from '#lib/id.ts';
import { read, write } from '#lib/server/api.ts';
import { Faults } from '#lib/server/faults.ts';
import { formId, refuse, text, typedValues } from '#lib/server/forms.ts';
import { requireKeeper } from '#lib/server/keepers.ts';
import { rememberedStep, rememberStep } from '#lib/server/scale-step.ts';
import { againOnSheet, faultsOnSheet, weighedLines } from '#lib/studio/count-form.ts';
import type { Actions, PageServerLoad } from './$types';

export const load: PageServerLoad = async (event) => {
  requireKeeper(event.locals);
  const [sheet, { lots }, { scales }] = await Promise.all([
    read(event, '/api/count-sheet', CountSheet),
    read(event, '/api/cabinet', Cabinet),
    read(event, '/api/scales', CabinetScales),
  ]);
  // Labels only: no balance may reach this page, or the count is not blind.
  const out = lots.flatMap(({ containers }) => containers).filter(({ outMg }) => outMg > 0);
  const isOut = new Set(out.map(({ id }) => id));
  return {
    id: newId(),
    scaleStep: rememberedStep(event),
    scales: scales.filter(({ retiredAt }) => retiredAt === null).map(({ id, name, stepMg }) => ({ id, name, stepMg })),
    sheet: sheet.containers.filter(({ id }) => !isOut.has(id)),
    out: out.map(({ id, label, substance }) => ({ id, label, substance })),
  };
};

export const actions: Actions = {
  default: async (event) => {
    const data = await event.request.formData();
    const id = formId(data);
    const lines = weighedLines(typedValues(data));
    const faults = new Faults();
    if (text(data, 'scaleId') === '') faults.stepMg(data, 'scaleStep');
    if (lines.length === 0) faults.add('lines/0/gross', 'Weigh at least one container and write what the scale shows.');
    if (faults.found.length > 0) return faults.refuse(data);
    const body = {
      id,
      scaleStep: text(data, 'scaleStep'),
      scaleId: text(data, 'scaleId') || null,
      lines: lines.map(({ containerId, gross, first }) => ({ containerId, gross, ...(first ? { first } : {}) })),
    };
    const answer = await write(event, '/api/counts', body, CountOut, { key: id });
    if (!answer.ok) {
      const errors = faultsOnSheet(answer.problem.errors ?? [], lines);
      const failure = refuse({ ...answer, problem: { ...answer.problem, errors } }, data);
      if (answer.problem.code === 'recount-needed') failure.data.values = againOnSheet(failure.data.values, errors);
      return failure;
    }
    rememberStep(event, text(data, 'scaleStep'));
    redirect(303, `/studio/cabinet/counts/${answer.value.id}`);
  },
};
