import type { ChangeStockSettings, StockSettings } from '@ashwater/contracts';
import type { StaffContext } from '../../../request-context.ts';
import { audit } from '../../audit/service.ts';
import { readSettings } from './input.ts';
import * as store from './store.ts';

export const readStockSettings = ({ tx, studio }: StaffContext): Promise<StockSettings> => store.settings(tx, studio.id);

/** Sets the studio's limits. Holds for what happens from now on; the audit says what each limit was before. */
export async function changeStockSettings(context: StaffContext, input: ChangeStockSettings): Promise<StockSettings> {
  const { tx, studio } = context;
  const to = readSettings(input);
  const from = await store.settings(tx, studio.id);
  await store.updateSettings(tx, studio.id, to);
  const changed = (Object.keys(to) as (keyof StockSettings)[]).filter((key) => to[key] !== from[key]);
  await audit(
    context,
    'changed the stock limits',
    `studio:${studio.id}`,
    Object.fromEntries(changed.flatMap((key) => [[`${key} was`, from[key]] as const, [key, to[key]] as const])),
  );
  return to;
}
