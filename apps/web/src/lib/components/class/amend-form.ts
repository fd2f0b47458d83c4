import type { AmendClass } from '@ashwater/contracts';
import { chosenRows, idOrNull, setUpAt } from './class-form.ts';

type Typed = Readonly<Record<string, string>>;

/** Reads the form into the request; `benches` says which row of the form each station came from. */
export function readAmendForm(id: string, typed: Typed): { body: AmendClass; benches: number[] } {
  const at = (name: string) => typed[name] ?? '';
  const benches = chosenRows(typed);
  const stations = benches.map((n) => ({ classStationId: at(`bench/${n}/id`), cardId: at(`bench/${n}/cardId`), ...setUpAt(typed, n) }));
  const lots = { naohLotId: idOrNull(at('naohLotId')), ...(typed['kohLotId'] === undefined ? {} : { kohLotId: idOrNull(at('kohLotId')) }) };
  return { body: { id, stations, ...lots, reason: at('reason'), confirm: at('confirm') === 'yes' }, benches };
}
