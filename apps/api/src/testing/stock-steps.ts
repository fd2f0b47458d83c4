import { newId } from '../ids.ts';
import type { Caller } from './test-studio.ts';

export type Received = { lotId: string; containerIds: string[] };

/** Receives a lot of containers, each `netG` grams net of a tare of 250 g, weighed to 1 g, and gives their ids. */
export async function receive(by: Caller, labels: string[], options: { netG?: number; substance?: 'NaOH' | 'KOH' } = {}): Promise<Received> {
  const lotId = newId();
  const containers = labels.map((label) => ({ id: newId(), label, gross: String((options.netG ?? 1000) + 250), tare: '250' }));
  const answer = await by.post('/api/lots', {
    id: lotId,
    substance: options.substance ?? 'NaOH',
    supplier: 'Harbour Chemicals',
    lotNumber: `L-${labels[0]}`,
    purityPercent: '99',
    purityUncertaintyPercent: '0.5',
    sdsLink: 'https://example.org/sds',
    sdsRevisedOn: '2026-01-31',
    scaleStep: '1',
    containers,
  });
  if (answer.statusCode !== 200) throw new Error(answer.body);
  return { lotId, containerIds: containers.map(({ id }) => id) };
}

export const handOut = (by: Caller, containerId: string, classId: string, mass: string, id: string = newId()) =>
  by.post('/api/checkouts', { id, containerId, classId, mass, scaleStep: '1' });

/** Hands out and gives the checkout's id; throws when refused. */
export async function handedOut(by: Caller, containerId: string, classId: string, mass: string): Promise<string> {
  const answer = await handOut(by, containerId, classId, mass);
  if (answer.statusCode !== 200) throw new Error(answer.body);
  return answer.json<{ id: string }>().id;
}

export const bringBack = (by: Caller, checkOutId: string, mass: string) => by.post(`/api/checkouts/${checkOutId}/return`, { mass, scaleStep: '1' });

/** Counts the shelf, each container weighed twice with the same figure, so that a count that does not agree is kept at once. */
export const count = (by: Caller, lines: { containerId: string; gross: string }[]) =>
  by.post('/api/counts', { id: newId(), scaleStep: '1', lines: lines.map((line) => ({ ...line, first: line.gross })) });
