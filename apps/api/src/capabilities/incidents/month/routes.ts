import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { Blanked, ChangeNoteSettings, Empty, ExportNotes, MonthReview, NoteSettings, NotesFile, SetStaffHours } from '@ashwater/contracts';
import { z } from 'zod';
import { KEEPERS } from '../../../plugins/access.ts';
import { read, write } from '../../../plugins/handlers.ts';
import { problemResponses } from '../../../plugins/problems.ts';
import { blankWhatIsPast, changeNoteSettings, newWallCode, readNoteSettings } from '../keeping/service.ts';
import { exportNotes } from './export-service.ts';
import { monthReview, setStaffHours } from './service.ts';

const keepers = { config: { access: { staff: KEEPERS } } } as const;
const tags = ['incidents'];
const month = z
  .string()
  .regex(/^\d{4}-(0[1-9]|1[0-2])$/, 'Choose a month.')
  .optional();

const routes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/api/note-month',
    {
      ...keepers,
      schema: { tags, summary: 'The review of a month, for the team', querystring: z.object({ month }), response: { 200: MonthReview, ...problemResponses } },
    },
    (request) => read(request, (context) => monthReview(context, request.query.month ?? null)),
  );
  app.put(
    '/api/staff-hours',
    { ...keepers, schema: { tags, summary: 'Write the hours worked in a month', body: SetStaffHours, response: { 200: Empty, ...problemResponses } } },
    (request) => write(request, (context) => setStaffHours(context, request.body)),
  );
  app.post(
    '/api/note-export',
    {
      ...keepers,
      schema: {
        tags,
        summary: 'Notes of a span of days as CSV; every export is in the audit',
        body: ExportNotes,
        response: { 200: NotesFile, ...problemResponses },
      },
    },
    (request) => write(request, (context) => exportNotes(context, request.body)),
  );
  app.get(
    '/api/note-settings',
    { ...keepers, schema: { tags, summary: 'How long names and notes are kept, and the wall code', response: { 200: NoteSettings, ...problemResponses } } },
    (request) => read(request, readNoteSettings),
  );
  app.put(
    '/api/note-settings',
    {
      ...keepers,
      schema: { tags, summary: 'Set how long names and notes are kept', body: ChangeNoteSettings, response: { 200: NoteSettings, ...problemResponses } },
    },
    (request) => write(request, (context) => changeNoteSettings(context, request.body)),
  );
  app.post(
    '/api/note-settings/wall-code',
    { ...keepers, schema: { tags, summary: 'Make a new code for the wall', response: { 200: NoteSettings, ...problemResponses } } },
    (request) => write(request, newWallCode),
  );
  app.post(
    '/api/note-settings/blank',
    { ...keepers, schema: { tags, summary: 'Blank names and notes that are past the rule', response: { 200: Blanked, ...problemResponses } } },
    (request) => write(request, blankWhatIsPast),
  );
};
export default routes;
