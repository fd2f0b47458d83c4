import { newId } from '../ids.ts';
import { ok } from './classroom.ts';
import type { Caller } from './test-studio.ts';

/** A scale at the cabinet, checked with a known mass. */
export async function fillScale(manager: Caller, text: (what: string) => string): Promise<string> {
  const id = newId();
  await ok(manager.post('/api/scales', { id, name: text('scale'), step: '1', capacity: '10 kg', verificationInterval: '1', accuracyClass: 'III' }));
  await ok(manager.post(`/api/scales/${id}/checks`, { id: newId(), known: '1 kg', knownLimit: '0.05', shown: '1001' }));
  return id;
}

/** A hand-out for a test, brought back on a named scale; one that waits for a second person; and a difference of the class explained in part. */
export async function fillHanding(manager: Caller, containerId: string, classId: string, scaleId: string, text: (what: string) => string): Promise<void> {
  const out = { containerId, purpose: 'test', mass: '5', scaleId, remark: text('titration') };
  const { id } = await ok<{ id: string }>(manager.post('/api/checkouts', { id: newId(), ...out }));
  await ok(manager.post(`/api/checkouts/${id}/return`, { mass: '2', scaleId, remark: text('left over') }));
  const limits = { sdsDays: '1095', storageLimit: '25 kg', twoPersonOver: '1 kg', checkoutHours: '12', currency: 'EUR', jarDays: '14' };
  await ok(manager.put('/api/stock-settings', { ...limits, twoPersonKeys: true }));
  await ok(manager.post('/api/checkouts', { id: newId(), containerId, classId, mass: '10', scaleId, remark: text('a large class') }));
  await ok(manager.put('/api/stock-settings', { ...limits, twoPersonKeys: false }));
  await ok(manager.post(`/api/classes/${classId}/differences`, { id: newId(), substance: 'NaOH', kind: 'spilled', mass: '1', remark: text('swept up') }));
}
