import { newId } from '../ids.ts';
import { ok } from './classroom.ts';
import type { Caller } from './test-studio.ts';

/** Opens a container and gives its lot a newer sheet, kept as a file; every text a person writes comes from `text`. */
export async function fillBottles(manager: Caller, lotId: string, containerId: string, text: (what: string) => string): Promise<{ fileId: string }> {
  const fileId = newId();
  await ok(manager.post('/api/stock-files', { id: fileId, name: text('sheet.pdf'), base64: Buffer.from('%PDF-1.7 invented').toString('base64') }));
  await ok(manager.post(`/api/lots/${lotId}/papers`, { id: newId(), kind: 'safety data sheet', link: '', fileId, revisedOn: '2026-02-01' }));
  await ok(manager.post(`/api/containers/${containerId}/acts`, { id: newId(), kind: 'opened', remark: text('seal broken') }));
  return { fileId };
}
