import { RecipeDraft } from '@ashwater/contracts';
import type { OrmTx } from '../../plugins/database/database.ts';

const versionOf = (row: { id: string; number: number; title: string; published_at: Date; publisher: { name: string } }) => ({
  id: row.id,
  number: row.number,
  title: row.title,
  publishedAt: row.published_at.toISOString(),
  publishedBy: row.publisher.name,
});
const versions = { orderBy: { number: 'desc' }, include: { publisher: { select: { name: true } } } } as const;

export async function list({ orm }: OrmTx, studioId: string) {
  const rows = await orm.recipe.findMany({ where: { studio_id: studioId }, orderBy: { title: 'asc' }, include: { versions } });
  return rows.map((row) => ({ id: row.id, title: row.title, updatedAt: row.updated_at.toISOString(), versions: row.versions.map(versionOf) }));
}

export async function byId({ orm }: OrmTx, studioId: string, id: string) {
  const row = await orm.recipe.findUnique({ where: { studio_id_id: { studio_id: studioId, id } }, include: { versions } });
  return (
    row && {
      id: row.id,
      title: row.title,
      updatedAt: row.updated_at.toISOString(),
      revision: row.revision,
      draft: RecipeDraft.parse(row.draft),
      versions: row.versions.map(versionOf),
    }
  );
}

export async function insert({ orm }: OrmTx, studioId: string, recipe: { id: string; draft: RecipeDraft; by: string; at: Date }): Promise<void> {
  await orm.recipe.create({
    data: {
      studio_id: studioId,
      id: recipe.id,
      title: recipe.draft.title,
      draft: recipe.draft,
      revision: 1,
      created_at: recipe.at,
      created_by: recipe.by,
      updated_at: recipe.at,
    },
  });
}

/** Saves over the revision the editor started from. @returns false when somebody saved in between */
export async function save({ orm }: OrmTx, studioId: string, recipe: { id: string; revision: number; draft: RecipeDraft; at: Date }): Promise<boolean> {
  const { count } = await orm.recipe.updateMany({
    where: { studio_id: studioId, id: recipe.id, revision: recipe.revision },
    data: { title: recipe.draft.title, draft: recipe.draft, revision: { increment: 1 }, updated_at: recipe.at },
  });
  return count === 1;
}

export async function insertVersion(
  { orm }: OrmTx,
  studioId: string,
  version: { id: string; recipeId: string; number: number; draft: RecipeDraft; by: string; at: Date },
) {
  const row = await orm.recipe_version.create({
    data: {
      studio_id: studioId,
      id: version.id,
      recipe_id: version.recipeId,
      number: version.number,
      title: version.draft.title,
      draft: version.draft,
      published_at: version.at,
      published_by: version.by,
    },
    include: { publisher: { select: { name: true } } },
  });
  return versionOf(row);
}

export async function versionById({ orm }: OrmTx, studioId: string, id: string) {
  const row = await orm.recipe_version.findUnique({ where: { studio_id_id: { studio_id: studioId, id } }, include: { publisher: { select: { name: true } } } });
  return row && { ...versionOf(row), recipeId: row.recipe_id, draft: RecipeDraft.parse(row.draft) };
}
