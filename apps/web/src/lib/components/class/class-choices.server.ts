import type { RequestEvent } from '@sveltejs/kit';
import { Cabinet, Recipes, Stations } from '@ashwater/contracts';
import type { LotOut, Substance } from '@ashwater/contracts';
import { formatMass } from '@ashwater/formulation';
import { read } from '../../server/api.ts';
import { dayOf } from '../../time.ts';
import { benchOptions } from './bench-choices.server.ts';

export type Option = { value: string; label: string };
type LotOption = Option & { empty: boolean };
const NO_LOT: LotOption = { value: '', label: 'None chosen: count on a wide range of purity', empty: false };

function lotOptions(lots: readonly LotOut[], substance: Substance): LotOption[] {
  const of = lots.filter((lot) => lot.substance === substance);
  return [
    NO_LOT,
    ...of.map((lot) => ({
      value: lot.id,
      empty: lot.balanceMg === 0,
      label: `Lot ${lot.lotNumber}, ${lot.supplier}: ${lot.purityPercent} ± ${lot.purityUncertaintyPercent} %, ${formatMass(Math.round(lot.balanceMg / 1000) * 1000)} in the cabinet`,
    })),
  ];
}

/** What a class can be made of: published versions, lots with their purity, the studio's stations. */
export async function classChoices(event: RequestEvent, zone: string) {
  const [{ recipes }, { lots }, { stations }] = await Promise.all([
    read(event, '/api/recipes', Recipes),
    read(event, '/api/cabinet', Cabinet),
    read(event, '/api/stations', Stations),
  ]);
  const versions: (Option & { title: string; recipeId: string })[] = recipes.flatMap((recipe) =>
    recipe.versions.map((version, i) => ({
      value: version.id,
      title: version.title,
      recipeId: recipe.id,
      label: `${version.title}, version ${version.number}${i === 0 ? '' : ' (older)'}, ${dayOf(version.publishedAt, zone)}`,
    })),
  );
  return { benchOptions: benchOptions(), versions, stations, naoh: lotOptions(lots, 'NaOH'), koh: lotOptions(lots, 'KOH') };
}
