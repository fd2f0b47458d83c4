import type { StockSettings } from '@ashwater/contracts';
import type { Tx } from '../../../plugins/database/database.ts';

export async function settings(tx: Tx, studioId: string): Promise<StockSettings> {
  const [row] = await tx.rows<StockSettings>(
    `SELECT sds_days AS "sdsDays", storage_limit_mg::float8 AS "storageLimitMg", two_person_over_mg::float8 AS "twoPersonOverMg",
       two_person_keys AS "twoPersonKeys", checkout_hours AS "checkoutHours", currency::text AS currency, jar_days AS "jarDays"
     FROM studio WHERE id = $1::uuid`,
    [studioId],
  );
  if (!row) throw new Error('the studio of this request is not there');
  return row;
}

export async function updateSettings(tx: Tx, studioId: string, to: StockSettings): Promise<void> {
  await tx.rows(
    `UPDATE studio SET sds_days = $2, storage_limit_mg = $3::bigint, two_person_over_mg = $4::bigint, two_person_keys = $5, checkout_hours = $6,
       currency = $7, jar_days = $8 WHERE id = $1::uuid`,
    [studioId, to.sdsDays, to.storageLimitMg, to.twoPersonOverMg, to.twoPersonKeys, to.checkoutHours, to.currency, to.jarDays],
  );
}
