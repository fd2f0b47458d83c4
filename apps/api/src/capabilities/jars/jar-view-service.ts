import type { JarOut } from '@ashwater/contracts';
import type { Studio } from '../../actor.ts';
import { GONE, standOf } from '../stock/service.ts';
import { dayIn } from '../../days.ts';
import type { JarRow } from './store.ts';

/** How a jar went, or null while there is something in it. */
function goneHow(row: JarRow): string | null {
  const last = row.acts.findLast(({ kind }) => GONE.includes(kind));
  if (last) return last.kind === 'disposed' ? 'disposed of' : last.kind;
  return standNow(row).gone ? 'used up' : null;
}
export const standNow = (row: JarRow) => standOf({ massMg: row.mass_mg, concentrationPercent: row.concentration_percent, place: row.place }, row.acts);

export function jarOut(row: JarRow, studio: Studio, now: Date): JarOut {
  const stand = standNow(row);
  return {
    id: row.id,
    number: row.number,
    contents: row.contents,
    concentrationPercent: row.concentration_percent,
    massMg: row.mass_mg,
    madeAt: row.made_at.toISOString(),
    discardOn: row.discard_on,
    madeBy: row.made_by,
    stationName: row.station_name,
    classTitle: row.class_title,
    state: stand.gone ? 'discarded' : dayIn(studio.timeZone, now) > row.discard_on ? 'past its discard date' : 'in date',
    nowMg: stand.massMg,
    nowConcentrationPercent: stand.concentrationPercent,
    place: stand.place,
    goneHow: goneHow(row),
  };
}
