import { MOST_FILE_BYTES } from '@ashwater/contracts';
import type { AddPaper, KeepFile, PaperOut } from '@ashwater/contracts';
import { inputRefused, notFound } from '../../../problems/domain-problem.ts';
import type { StaffContext } from '../../../request-context.ts';
import { audit } from '../../audit/service.ts';
import { announce } from '../../live/service.ts';
import * as store from './store.ts';
import { postingOf } from '../posting.ts';

export { sheetStand } from './sheet-age.ts';

/** How every PDF begins (ISO 32000-1, 7.5.2 File header). What a browser calls a file is no proof of what is in it. */
const PDF_HEAD = '%PDF-';

/** Keeps a PDF as it came. Nothing opens it here; whoever reads it downloads it. */
export async function keepFile(context: StaffContext, input: KeepFile): Promise<{ id: string }> {
  const { tx } = context;
  const bytes = Buffer.from(input.base64, 'base64');
  if (bytes.length > MOST_FILE_BYTES)
    throw inputRefused('/base64', 'The file is larger than 5 MB. Ask the supplier for a smaller one, or give its web address.');
  if (bytes.subarray(0, PDF_HEAD.length).toString('latin1') !== PDF_HEAD)
    throw inputRefused('/base64', 'This is not a PDF. Save the sheet as a PDF, or give its web address.');
  await store.insertFile(tx, postingOf(context), { id: input.id, name: input.name, bytes });
  await audit(context, 'kept a file', `file:${input.id}`, { bytes: bytes.length });
  return { id: input.id };
}

export async function readFile({ tx, studio }: StaffContext, id: string): Promise<{ name: string; bytes: Buffer }> {
  const file = await store.fileById(tx, studio.id, id);
  if (!file) throw notFound('The file');
  return { name: file.name, bytes: Buffer.from(file.base64, 'base64') };
}

/** Adds a newer sheet or a certificate to a lot; what was there before stays readable. */
export async function addPaper(context: StaffContext, lotId: string, paper: AddPaper): Promise<{ id: string }> {
  if (!(await store.hasLot(context.tx, context.studio.id, lotId))) throw notFound('The lot');
  await recordPaper(context, lotId, paper);
  await audit(context, `added a ${paper.kind}`, `lot:${lotId}`, { revisedOn: paper.revisedOn });
  await announce(context, { kind: 'stock-changed', subjectId: lotId });
  return { id: paper.id };
}

/** The paper's row alone, for a lot that exists. `prefix` is where the form's fields begin their names ("sds", "certificate"). */
export async function recordPaper(context: StaffContext, lotId: string, paper: AddPaper, pointers = { link: '/link', fileId: '/fileId' }): Promise<void> {
  const { tx, studio } = context;
  if (paper.link === '' && paper.fileId === null) throw inputRefused(pointers.link, `Give the web address of the ${paper.kind}, or its file.`);
  if (paper.fileId !== null && !(await store.hasFile(tx, studio.id, paper.fileId)))
    throw inputRefused(pointers.fileId, 'This file was not kept. Choose it once more.');
  await store.insertPaper(tx, postingOf(context), lotId, paper);
}

export async function papersOf({ tx, studio }: StaffContext, lotId: string): Promise<PaperOut[]> {
  const rows = await store.papers(tx, studio.id, lotId);
  return rows.map((row) => ({ ...row, at: row.at.toISOString() }));
}
