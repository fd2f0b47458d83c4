import { readRecipe } from '@ashwater/contracts';
import type { RecipeDraft } from '@ashwater/contracts';
import { formulate, PURITY_WITHOUT_CERTIFICATE } from '@ashwater/formulation';
import type { Purity } from '@ashwater/formulation';
import { DomainProblem, formulationRefused, inputRefused, notFound } from '../../problems/domain-problem.ts';
import type { OrmStaffContext } from '../../request-context.ts';
import { audit } from '../audit/service.ts';
import { withOwnFats } from '../fats/service.ts';
import * as store from './store.ts';

/** A recipe is judged whole before anything is written, with the purity range of caustic whose certificate is not known yet. */
function refuseUnsound(draft: RecipeDraft): void {
  const recipe = readRecipe(draft);
  if (!recipe.ok) throw formulationRefused(recipe.problems, '/draft');
  const formula = formulate(recipe.value, PURITY_WITHOUT_CERTIFICATE);
  if (!formula.ok) throw formulationRefused(formula.problems, '/draft');
}

const exactly = (percent: number) => ({ low: percent, nominal: percent, high: percent });
/** Caustic of a purity known exactly: what no certificate can better. */
const BEST_PURITY: Purity = {
  naohPercent: exactly(PURITY_WITHOUT_CERTIFICATE.naohPercent.nominal),
  kohPercent: exactly(PURITY_WITHOUT_CERTIFICATE.kohPercent.nominal),
};

/**
 * A version is refused when the oils' ranges alone can bring its superfat below zero: no lot and no scale could make a safe
 * card of it. What a lot's purity and a scale add is judged when a class issues its cards.
 */
function refuseCaustic(draft: RecipeDraft): void {
  const recipe = readRecipe(draft);
  const formula = recipe.ok ? formulate(recipe.value, BEST_PURITY) : recipe;
  if (!formula.ok) throw formulationRefused(formula.problems, '/draft');
  const low = formula.value.superfatBandPercent.low;
  if (low >= 0) return;
  const words = (Math.floor(low * 10) / 10).toFixed(1);
  throw inputRefused(
    '/draft/superfatPercent',
    `With these oils the superfat can be as low as ${words} %: bars could hold free alkali. Raise the superfat by at least ${Math.ceil(-low)} points before you publish.`,
  );
}

export const listRecipes = ({ tx, studio }: OrmStaffContext) => store.list(tx, studio.id);

export async function getRecipe({ tx, studio }: OrmStaffContext, id: string) {
  const recipe = await store.byId(tx, studio.id, id);
  if (!recipe) throw notFound('This recipe');
  return recipe;
}

export async function getVersion({ tx, studio }: Pick<OrmStaffContext, 'tx' | 'studio'>, id: string) {
  const version = await store.versionById(tx, studio.id, id);
  if (!version) throw notFound('This recipe version');
  return version;
}

export async function createRecipe(context: OrmStaffContext, input: { id: string; draft: RecipeDraft }): Promise<{ id: string }> {
  const draft = await withOwnFats(context, input.draft);
  refuseUnsound(draft);
  await store.insert(context.tx, context.studio.id, { id: input.id, draft, by: context.actor.id, at: context.now });
  await audit(context, 'wrote a recipe', `recipe:${input.id}`);
  return { id: input.id };
}

export async function saveRecipe(context: OrmStaffContext, id: string, input: { revision: number; draft: RecipeDraft }): Promise<{ revision: number }> {
  const before = await getRecipe(context, id);
  const draft = await withOwnFats(context, input.draft, before.draft);
  refuseUnsound(draft);
  const saved = await store.save(context.tx, context.studio.id, { id, revision: input.revision, draft, at: context.now });
  if (!saved) throw stale();
  await audit(context, 'saved a recipe', `recipe:${id}`, { revision: input.revision + 1 });
  return { revision: input.revision + 1 };
}

/** Freezes the saved draft as the next version. What was published is never changed again. */
export async function publishRecipe(context: OrmStaffContext, recipeId: string, input: { id: string; revision: number }) {
  const recipe = await getRecipe(context, recipeId);
  if (recipe.revision !== input.revision) throw stale();
  const draft = await withOwnFats(context, recipe.draft, recipe.draft);
  refuseUnsound(draft);
  refuseCaustic(draft);
  const number = (recipe.versions[0]?.number ?? 0) + 1;
  const version = await store.insertVersion(context.tx, context.studio.id, {
    id: input.id,
    recipeId,
    number,
    draft,
    by: context.actor.id,
    at: context.now,
  });
  await audit(context, 'published a recipe version', `recipe_version:${input.id}`, { number });
  return version;
}

const stale = () =>
  new DomainProblem(
    'stale-revision',
    'Somebody else saved this recipe after you opened it. Open it again in another tab and compare; what you typed is still here.',
  );
