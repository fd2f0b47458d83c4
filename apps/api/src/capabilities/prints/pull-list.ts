import type { CardContent, CardOut, ClassOut, Substance } from '@ashwater/contracts';
import { SUBSTANCE_NAMES } from '@ashwater/contracts';
import { classTotals } from '@ashwater/formulation';
import type { ClassTotal } from '@ashwater/formulation';

/** One thing to fetch for a class. `massMg` is what the stations weigh together, `pullMg` that with the spare. */
export type Need = { item: string; kind: string; lot: string | null; massMg: number; pullMg: number; stations: number; note: string };
/** What is counted, not weighed. */
export type Counted = { item: string; count: number; unit: string; note: string };

/** Per station, for wiping bench and tools once: common practice, no source. */
const VINEGAR_MG = 250_000;
/** Expected at a station where nobody has joined yet: common practice, no source. */
const SEATS_AT_STATION = 2;
/** A pair to wear, and one for when it tears: common practice, no source. */
const GLOVE_PAIRS = 2;

const SUBSTANCE_OF: Record<string, Substance> = { naoh: 'NaOH', koh: 'KOH' };
const lotOf = (content: CardContent, kind: string): string | null => content.lots.find(({ substance }) => substance === SUBSTANCE_OF[kind])?.lotNumber ?? null;

type Total = Pick<ClassTotal, 'name' | 'stations' | 'sumMg' | 'totalMg'> & { kind: string; lot: string | null };

/** Lines of the cards in force, summed; the same substance of two lots stays two. */
function fromCards(cards: readonly CardOut[], sparePercent: number): Total[] {
  const lots = new Map<string, string | null>();
  const plans = cards.map(({ content }) => ({
    lines: content.lines.map((line) => {
      const lot = lotOf(content, line.kind);
      const key = lot === null ? line.key : `${line.key} of lot ${lot}`;
      lots.set(key, lot);
      return { ...line, key };
    }),
  }));
  const totals = classTotals(plans, sparePercent);
  if (!totals.ok) throw new Error(`issued cards cannot be summed: ${totals.problems[0]?.detail ?? ''}`);
  return totals.value.map((total) => ({ ...total, lot: lots.get(total.key) ?? null }));
}

/** Before publishing: what the plans would weigh, by the class's own totals and lots. */
function fromPlans({ totals, stock }: Pick<ClassOut, 'totals' | 'stock'>): Total[] {
  const lot = (kind: string) => stock.find(({ substance }) => SUBSTANCE_OF[kind] && substance === SUBSTANCE_NAMES[SUBSTANCE_OF[kind]])?.lotNumber ?? null;
  return totals.map((total) => ({ ...total, lot: lot(total.kind) }));
}

/** The order in which a shelf is walked: caustic late, so that it is out for the shortest time, and ice last, from the freezer. */
const ORDER = ['fat', 'additive', 'acid', 'liquid', 'water', 'naoh', 'koh', 'ice'];
const NOTE: Record<string, string> = {
  naoh: 'Locked cabinet: check out in the books',
  koh: 'Locked cabinet: check out in the books',
  ice: 'From the freezer, at the last moment',
};

/**
 * What every line of the class needs together, with the spare in percent; `room` is for a class without cards, and holds the
 * spare already. Alkali stands by its lot, in the order of the lot numbers: lots carry no expiry date.
 */
export function needsOf(cards: readonly CardOut[], room: Pick<ClassOut, 'totals' | 'stock'>, sparePercent: number): Need[] {
  const totals = cards.length > 0 ? fromCards(cards, sparePercent) : fromPlans(room);
  const rank = (kind: string) => (ORDER.indexOf(kind) + ORDER.length) % ORDER.length;
  return totals
    .map(({ kind, name, lot, sumMg, totalMg, stations }) => ({ item: name, kind, lot, massMg: sumMg, pullMg: totalMg, stations, note: NOTE[kind] ?? '' }))
    .sort((a, b) => rank(a.kind) - rank(b.kind) || (a.lot ?? '').localeCompare(b.lot ?? '', 'en', { numeric: true }));
}

const MG_PER_G = 1000;
const withSpare = (amount: number, sparePercent: number, unit: number): number => Math.ceil((amount * (100 + sparePercent)) / 100 / unit) * unit;

/** Vinegar and gloves: neither is in the recipe, both are needed. `joined` people have taken a seat. */
export function besides(stations: number, joined: number, sparePercent: number): { vinegar: Need; gloves: Counted } {
  const massMg = stations * VINEGAR_MG;
  const pullMg = withSpare(massMg, sparePercent, MG_PER_G);
  const vinegar = { item: 'Vinegar, 5 % household', kind: 'vinegar', lot: null, massMg, pullMg, stations, note: 'For wiped surfaces only, never on skin' };
  const people = Math.max(joined, stations * SEATS_AT_STATION);
  const count = withSpare(people * GLOVE_PAIRS, sparePercent, 1);
  return { vinegar, gloves: { item: 'Gloves', count, unit: 'pairs', note: `${GLOVE_PAIRS} pairs a person, ${people} people` } };
}
