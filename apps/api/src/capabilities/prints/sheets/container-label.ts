import { SUBSTANCE_NAMES } from '@ashwater/contracts';
import type { ContainerOut, LotOut } from '@ashwater/contracts';
import { formatMass, labelOfSolution } from '@ashwater/formulation';
import type { JarLabel, Wording } from './jar-label.ts';
import type { Stamp } from './stamp.ts';
import { dayWords, plainDay } from './words.ts';

/** What to wear and what to do at once: beside the supplier's own label there is room for no more. The choice is ours. */
const SHOWN = ['P260', 'P280', 'P303+P361+P353', 'P305+P351+P338', 'P310', 'P405'];
const FEWEST = ['P280', 'P303+P361+P353', 'P305+P351+P338', 'P310'];
const LONGEST = 24;
const LONGEST_NAME = 40;
const shortened = (text: string, longest = LONGEST): string => (text.length > longest ? `${text.slice(0, longest)}\u2026` : text);

/** The studio's label of a container: it stands beside the supplier's, and its code leads to the container's page. */
export function labelOfContainer(lot: LotOut, container: ContainerOut, stamp: Stamp, wording: Wording): JarLabel {
  // Solid caustic is classed as the strongest solution is: from 5 % up (CLP, Annex VI Table 3, from memory).
  const hazard = labelOfSolution(lot.substance, 100);
  const us = wording === 'US';
  const says = (codes: readonly string[]): string[] => [
    ...(us ? hazard.us.statements : hazard.statements.map(({ text, code }) => `${text} (${code})`)),
    ...hazard.precautions.filter(({ code }) => codes.includes(code)).map((each) => (us ? (each.usText ?? each.text) : each.text)),
  ];
  const printed = dayWords(stamp.printedAt, stamp.zone);
  const keep = 'Takes up water and carbon dioxide: lid closed, always.';
  return {
    contents: `${shortened(container.label, LONGEST_NAME)}: ${SUBSTANCE_NAMES[lot.substance]}, dry`,
    concentration: `${lot.purityPercent} % ± ${lot.purityUncertaintyPercent} % by the certificate`,
    signalWord: 'Danger: corrosive',
    statements: [[...says(SHOWN), keep], says(FEWEST)],
    supplierFirst: 'The supplier’s label stays on. Its safety data sheet comes first.',
    facts: [
      { name: 'Lot', value: shortened(lot.lotNumber) },
      { name: 'Empty, with lid', value: formatMass(container.tareMg) },
      { name: 'Received', value: dayWords(new Date(lot.receivedAt), stamp.zone) },
      { name: 'Best before', value: lot.bestBefore === null ? 'not given' : plainDay(lot.bestBefore) },
    ],
    from: [
      `From ${shortened(lot.supplier)}. ${stamp.studioName}, ${stamp.emergencyPhone}. Printed ${printed}.`,
      `From ${shortened(lot.supplier)}. ${stamp.emergencyPhone}. Printed ${printed}.`,
    ],
    qrPath: `/studio/cabinet/bottles/${container.id}`,
  };
}
