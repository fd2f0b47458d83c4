import { hydroxideContent } from '@ashwater/formulation';
import type { Interval, Outcome } from '@ashwater/formulation';

/** What a lot's certificate says, percent by mass. Carbonate and water are the most it allows, or null where it is silent. */
export type LotCertificate = {
  substance: 'NaOH' | 'KOH';
  assayIs: 'hydroxide' | 'total alkali';
  purityPercent: number;
  purityUncertaintyPercent: number;
  carbonatePercent: number | null;
  waterPercent: number | null;
};

/** A figure a certificate gives as a most: it can be anything from none to that. */
const atMost = (percent: number | null): Interval | undefined => (percent === null ? undefined : { low: 0, nominal: percent / 2, high: percent });

/**
 * The hydroxide in a lot, percent by mass, as an interval that holds it wherever within the certificate the lot lies. Its high end
 * counts no carbonate: caustic that is purer than its certificate's most must not go in as if it were weaker.
 * Refuses at "/purityPercent" or "/carbonatePercent" what cannot be.
 */
export function lotHydroxide(lot: LotCertificate): Outcome<Interval> {
  const { purityPercent: nominal, purityUncertaintyPercent: give } = lot;
  const assayPercent = { low: Math.max(0.1, nominal - give), nominal, high: Math.min(100, nominal + give) };
  if (lot.assayIs === 'hydroxide') return { ok: true, value: assayPercent };
  const [carbonatePercent, waterPercent] = [atMost(lot.carbonatePercent), atMost(lot.waterPercent)];
  const content = hydroxideContent(lot.substance, {
    assayIs: lot.assayIs,
    assayPercent,
    ...(carbonatePercent ? { carbonatePercent } : {}),
    ...(waterPercent ? { waterPercent } : {}),
  });
  if (!content.ok)
    return { ok: false, problems: content.problems.map((fault) => ({ ...fault, pointer: fault.pointer.replace(/^\/assayPercent.*/, '/purityPercent') })) };
  if (content.value.low >= 50) return content;
  const detail = `This much carbonate would leave as little as ${Math.floor(content.value.low)} % hydroxide. Check the certificate.`;
  return { ok: false, problems: [{ code: 'value-out-of-range', pointer: '/carbonatePercent', detail }] };
}

/** An interval as its middle and half its width, outward in thousandths of a percent. */
export function middleAndHalf({ low, high }: Pick<Interval, 'low' | 'high'>): { percent: number; uncertaintyPercent: number } {
  const ends = [Math.floor(low * 1000 + 1e-6), Math.ceil(high * 1000 - 1e-6)] as const;
  return { percent: (ends[0] + ends[1]) / 2000, uncertaintyPercent: (ends[1] - ends[0]) / 2000 };
}
