import { ownFatId } from '@ashwater/contracts';
import type { AddFat, FatOut, FieldFault, RecipeDraft } from '@ashwater/contracts';
import type { Tx } from '../../plugins/database/database.ts';
import { DomainProblem, inputRefused, notFound } from '../../problems/domain-problem.ts';
import type { StaffContext } from '../../request-context.ts';
import { audit } from '../audit/service.ts';
import { readFat } from './fat-input.ts';
import * as store from './store.ts';

const DAY_MS = 86_400_000;

/** The studio's own fats with the recipes that name them; those retired come last. */
export async function listFats({ tx, studio }: StaffContext): Promise<FatOut[]> {
  const rows = await store.fats(tx, studio.id);
  return rows.map(({ own, retiredAt, addedAt, addedBy, usedBy }) => ({
    ...own,
    addedAt: addedAt.toISOString(),
    addedBy,
    retiredAt: retiredAt?.toISOString() ?? null,
    usedBy,
  }));
}

export async function addFat(context: StaffContext, input: AddFat): Promise<{ id: string }> {
  const { tx, studio, actor, now } = context;
  // A day ahead of UTC: somewhere on Earth it is tomorrow already.
  const fat = readFat(input, new Date(now.getTime() + DAY_MS).toISOString().slice(0, 10));
  const taken = await store.nameTaken(tx, studio.id, fat.name);
  if (taken) throw inputRefused('/name', `${taken.retired ? 'A retired fat' : 'A fat'} of yours is called that already. Add the supplier or the year.`);
  await store.insert(tx, { ...fat, studioId: studio.id, id: input.id, at: now, by: actor.id });
  await audit(context, 'added a fat', `fat:${input.id}`, { svLow: fat.saponificationValue.low, svHigh: fat.saponificationValue.high });
  return { id: input.id };
}

/** No longer offered to recipes. Those that hold it keep their copy, and go on working. */
export async function retireFat(context: StaffContext, id: string): Promise<Record<string, never>> {
  const [fat] = await store.byIds(context.tx, context.studio.id, [id]);
  if (!fat) throw notFound('This fat');
  if (await store.retire(context.tx, context.studio.id, id, context.now)) await audit(context, 'retired a fat', `fat:${id}`);
  return {};
}

/**
 * A draft with the studio's own figures of its own fats, whatever was sent as such. A fat that is retired stays where it was in the
 * recipe before, with the copy of then; a new line cannot name it.
 * @param before the recipe as stored so far, none when it is new
 * Throws `input-refused` at "/draft/fats/<index>/fatKey".
 */
export async function withOwnFats({ tx, studio }: { tx: Tx; studio: { id: string } }, draft: RecipeDraft, before?: RecipeDraft): Promise<RecipeDraft> {
  const ids = draft.fats.flatMap(({ fatKey }) => ownFatId(fatKey)?.match(UUID) ?? []);
  const known = new Map((ids.length > 0 ? await store.byIds(tx, studio.id, ids) : []).map((fat) => [fat.own.id, fat]));
  const faults: FieldFault[] = [];
  const fats = draft.fats.map(({ own: _sent, ...line }, index) => {
    const id = ownFatId(line.fatKey);
    if (id === undefined) return line;
    const kept = before?.fats.find((earlier) => earlier.fatKey === line.fatKey)?.own;
    const fat = known.get(id);
    if (fat && fat.retiredAt === null) return { ...line, own: fat.own };
    if (kept) return { ...line, own: kept };
    const detail = fat ? `${fat.own.name} is retired. Choose another fat.` : 'This fat is not in your list. Choose another one.';
    faults.push({ pointer: `/draft/fats/${index}/fatKey`, detail });
    return line;
  });
  if (faults.length > 0) throw new DomainProblem('input-refused', faults[0]?.detail ?? '', faults);
  return { ...draft, fats };
}
const UUID = /^[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;
