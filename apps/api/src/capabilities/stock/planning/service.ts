import type { OfferIn, OfferOut, StockPlan, Substance, SubstancePlan } from '@ashwater/contracts';
import { formatMass } from '@ashwater/formulation';
import { DomainProblem, notFound } from '../../../problems/domain-problem.ts';
import { dayIn } from '../../../days.ts';
import type { StaffContext } from '../../../request-context.ts';
import { audit } from '../../audit/service.ts';
import { EnteredFields } from '../entered.ts';
import { currencyDecimals } from '../lots/service.ts';
import { readStockSettings } from '../settings/service.ts';
import { coverDays, reorderPointMg, restock, SAFETY_WEEKS, USUAL_LEAD_DAYS } from './forecast.ts';
import type { Demand, Restock } from './forecast.ts';
import { landedCost } from './landed-cost.ts';
import * as store from './store.ts';
import { postingOf } from '../posting.ts';

const DAY_MS = 86_400_000;
const PAST_WEEKS = 12;

/** Notes what a supplier asks. A newer note of the same pack stands beside the older until that one is retired. */
export async function noteOffer(context: StaffContext, input: OfferIn): Promise<{ id: string }> {
  const { tx } = context;
  const entered = new EnteredFields();
  const packMg = entered.massMg(input.pack, '/pack');
  const decimals = await currencyDecimals(context);
  const money = (text: string, pointer: string, name: string) =>
    Math.round(entered.decimal(text, pointer, { name, min: 0, max: 1_000_000, maxDecimals: decimals }) * 10 ** decimals);
  const whole = (text: string, pointer: string, name: string, min: number) => entered.decimal(text, pointer, { name, min, max: 1000, maxDecimals: 0 });
  const offer = {
    ...input,
    packMg,
    priceMinor: money(input.price, '/price', 'The price'),
    freightMinor: money(input.freight === '' ? '0' : input.freight, '/freight', 'The freight'),
    minimumPacks: whole(input.minimumPacks === '' ? '1' : input.minimumPacks, '/minimumPacks', 'The least number of packs', 1),
    purityPercent: entered.decimal(input.purityPercent, '/purityPercent', { name: 'The purity', min: 1, max: 100, maxDecimals: 3 }),
    leadDays: whole(input.leadDays, '/leadDays', 'The days until it arrives', 0),
  };
  if (entered.faults.length === 0 && packMg === 0) entered.fault('/pack', 'Enter what one pack holds.');
  entered.refuse();
  await store.insertOffer(tx, postingOf(context), offer);
  await audit(context, 'noted a supplier’s offer', `offer:${input.id}`, { substance: input.substance });
  return { id: input.id };
}

export async function retireOffer(context: StaffContext, id: string): Promise<Record<string, never>> {
  const done = await store.retireOffer(context.tx, context.studio.id, id, context.now);
  if (done === 'none') throw notFound('This offer');
  if (done === 'retired') throw new DomainProblem('nothing-to-change', 'This offer is retired already.');
  await audit(context, 'retired a supplier’s offer', `offer:${id}`);
  return {};
}

/** An estimate is not told to the milligram. */
const toGrams = (mg: number): number => Math.ceil(mg / 1000) * 1000;

/** What will be used, how long it lasts, when to order and what: a forecast, and nothing is ordered by it. */
export async function readPlan(context: StaffContext): Promise<StockPlan> {
  const { tx, studio, now } = context;
  const today = dayIn(studio.timeZone, now);
  const settings = await readStockSettings(context);
  const shelf = await store.shelf(tx, studio.id, today);
  const past = await store.usedSince(tx, studio.id, new Date(now.getTime() - PAST_WEEKS * 7 * DAY_MS));
  const means = await store.meanPerStation(tx, studio.id);
  const coming = await store.coming(tx, studio.id, studio.timeZone, new Date(now.getTime() - DAY_MS / 2));
  const offers = (await store.offers(tx, studio.id)).map((row): OfferOut => ({
    ...row,
    notedAt: row.notedAt.toISOString(),
    perPureKgMinor: landedCost(row, 1).perPureKgMinor,
  }));
  const roomMg = settings.storageLimitMg - shelf.reduce((sum, { onShelfMg }) => sum + onShelfMg, 0);
  const of = <T extends { substance: Substance }>(rows: T[], substance: Substance) => rows.find((row) => row.substance === substance);
  const substances = (['NaOH', 'KOH'] as const).flatMap((substance): SubstancePlan[] => {
    const { onShelfMg = 0, inDateMg = 0 } = of(shelf, substance) ?? {};
    const weeklyUseMg = toGrams((of(past, substance)?.mg ?? 0) / PAST_WEEKS);
    const mean = of(means, substance)?.mg ?? 0;
    const scheduled = coming
      .filter((each) => each.substance === substance)
      .map((each) => needOf(each, mean))
      .filter(({ needMg }) => needMg > 0);
    const own = offers.filter((offer) => offer.substance === substance);
    if (onShelfMg === 0 && weeklyUseMg === 0 && scheduled.length === 0 && own.length === 0) return [];
    const inDays = (day: string) => Math.max(0, Math.round((Date.parse(day) - Date.parse(today)) / DAY_MS));
    const demand = { needs: scheduled.map(({ day, needMg }) => ({ inDays: inDays(day), needMg })), weeklyUseMg };
    return [{ substance, onShelfMg, inDateMg, weeklyUseMg, scheduled, ...orderOf(demand, inDateMg, roomMg, own) }];
  });
  return { currency: settings.currency, storageLimitMg: settings.storageLimitMg, substances, offers };
}

/** A class's need: its cards, and for stations without one what a station usually takes; both with the class's spare. */
function needOf(each: store.Coming, meanMg: number) {
  const needMg = toGrams((each.cardsMg + each.withoutCard * meanMg) * (1 + each.sparePercent / 100));
  return { classId: each.classId, title: each.title, day: each.day, needMg, estimated: each.withoutCard > 0 };
}

function orderOf(demand: Demand, inDateMg: number, roomMg: number, offers: OfferOut[]) {
  const leadDays = offers.length > 0 ? Math.min(...offers.map((offer) => offer.leadDays)) : USUAL_LEAD_DAYS;
  const pointMg = toGrams(reorderPointMg(demand, leadDays));
  const reorder = inDateMg <= pointMg && pointMg > 0;
  const found: Restock | null = reorder ? restock(demand, inDateMg, roomMg, offers) : null;
  const proposal =
    found?.kind === 'proposal'
      ? {
          offerId: found.proposal.offer.id,
          supplier: offers.find(({ id }) => id === found.proposal.offer.id)!.supplier,
          product: offers.find(({ id }) => id === found.proposal.offer.id)!.product,
          packs: found.proposal.packs,
          massMg: found.proposal.massMg,
          costMinor: found.proposal.costMinor,
          perPureKgMinor: found.proposal.perPureKgMinor,
          arrivesInTime: found.proposal.arrivesInTime,
        }
      : null;
  return { coverDays: coverDays(demand, inDateMg), reorderPointMg: pointMg, reorder, proposal, words: wordsOf(found, pointMg, leadDays) };
}

function wordsOf(found: Restock | null, pointMg: number, leadDays: number): string {
  const point = `The reorder point is ${formatMass(pointMg)}: what is expected to go in ${leadDays} days, and ${SAFETY_WEEKS} weeks of mean use in reserve.`;
  if (found === null) return `Nothing needs to be ordered now. ${point}`;
  if (found.kind === 'no-offer') return `It is time to order, but no supplier is noted. ${point}`;
  if (found.kind === 'no-room') return `It is time to order, but the least that can be ordered would pass the studio’s storage limit. ${point}`;
  return found.proposal.arrivesInTime ? `It is time to order. ${point}` : `It is time to order, and it will run out before a delivery can come. ${point}`;
}
