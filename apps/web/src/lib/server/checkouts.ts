import { error } from '@sveltejs/kit';
import { CheckOuts } from '@ashwater/contracts';
import type { Checkout } from '../studio/types.ts';
import { read } from './api.ts';
import type { Caller } from './api.ts';

export async function checkoutById(event: Caller, id: string): Promise<Checkout> {
  const { checkouts } = await read(event, '/api/checkouts', CheckOuts);
  const found = checkouts.find((checkout) => checkout.id === id);
  return found ?? error(404, 'Not found', { detail: 'No hand-out with this address was found in this studio.' });
}
