import type { BottleState, Substance } from '@ashwater/contracts';
import { carbonation } from '@ashwater/formulation';

const NAMES = { NaOH: 'sodium hydroxide', KOH: 'potassium hydroxide' } as const;

/** How much a gram of hydroxide gains while it turns to carbonate, g; the water that forms stays in it. */
function gainPerGram(substance: Substance): number {
  const turned = carbonation(substance, 1_000_000, 100);
  if (!turned.ok) throw new Error('the carbonation of one kilogram cannot be told');
  return turned.value.gainMg / 1_000_000;
}

/** What is said beside a container. The supplier's sheet comes first; none of this replaces it. */
export function cautionsOf(substance: Substance, state: BottleState): string[] {
  if (state === 'disposed') return [];
  const first = 'The supplier’s safety data sheet and your local rules come first.';
  if (state === 'emptied' || state === 'rinsed')
    return [
      first,
      'An empty container still holds dust or film that burns. Goggles and gloves on while it is rinsed; use plenty of cold water, a little at a time.',
      'Where rinse water and containers may go is for your local rules and waste service to say.',
    ];
  const carbonate = (1 / gainPerGram(substance)).toFixed(1);
  return [
    first,
    'Goggles and gloves on before the lid is opened. Close the lid at once after each use.',
    `Open ${NAMES[substance]} takes up water and carbon dioxide from the air: it gets heavier and weaker. Each gram of carbon dioxide it takes up spends ${carbonate} g of hydroxide (an estimate, as if nothing else happened); water only dilutes it. After a gain the certificate’s purity says too much: a weigh card made with it then leaves more superfat.`,
  ];
}
