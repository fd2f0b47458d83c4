import { MOST_JAR_DAYS } from '@ashwater/contracts';
import type { ChangeStockSettings, StockSettings } from '@ashwater/contracts';
import { EnteredFields } from '../entered.ts';

const currencies = new Set(Intl.supportedValuesOf('currency'));
/** More than a studio could keep: past it a unit was mixed up. */
const MOST_STORED_MG = 10_000_000_000;

/** The studio's limits as typed. Throws `input-refused` with a fault for every field that cannot stand. */
export function readSettings(input: ChangeStockSettings): StockSettings {
  const entered = new EnteredFields();
  const whole = (text: string, pointer: string, name: string, max: number) => entered.decimal(text, pointer, { name, min: 1, max, maxDecimals: 0 });
  const sdsDays = whole(input.sdsDays, '/sdsDays', 'The age in days', 3650);
  const before = entered.faults.length;
  const storageLimitMg = entered.massMg(input.storageLimit, '/storageLimit');
  if (entered.faults.length === before && (storageLimitMg === 0 || storageLimitMg > MOST_STORED_MG))
    entered.fault('/storageLimit', 'The most that may stand in the studio is above 0 g and at most 10 000 kg.');
  const twoPersonOverMg = entered.massMg(input.twoPersonOver, '/twoPersonOver');
  const checkoutHours = whole(input.checkoutHours, '/checkoutHours', 'The time in hours', 24 * 30);
  const currency = input.currency.trim().toUpperCase();
  if (!currencies.has(currency)) entered.fault('/currency', 'Write the three letters of the currency, such as EUR or USD.');
  const jarDays = readJarDays(entered, input.jarDays);
  entered.refuse();
  return { sdsDays, storageLimitMg, twoPersonOverMg, twoPersonKeys: input.twoPersonKeys, checkoutHours, currency, jarDays };
}

function readJarDays(entered: EnteredFields, text: string): number {
  const before = entered.faults.length;
  const days = entered.decimal(text, '/jarDays', { name: 'The days a jar may stand', min: 1, max: 3650, maxDecimals: 0 });
  if (entered.faults.length === before && days > MOST_JAR_DAYS)
    entered.fault('/jarDays', `A solution jar stands ${MOST_JAR_DAYS} days at most; your studio may ask for less. Make a fresh solution instead.`);
  return days;
}
