import { Cabinet, Classes, ClassOut } from '@ashwater/contracts';
import type { ContainerOut } from '@ashwater/contracts';
import { formatMass } from '@ashwater/formulation/quantity';
import { NAME_OF, nameIn } from '../studio/substance.ts';
import { read } from './api.ts';
import type { Caller } from './api.ts';
import { Faults } from './faults.ts';
import { text } from './forms.ts';

const farFromNow = (startsAt: string): number => Math.abs(new Date(startsAt).getTime() - Date.now());

/** What a hand-out can choose from: published classes, nearest to now first, and containers that hold something. */
export async function choices(event: Caller) {
  const [{ classes }, { lots }] = await Promise.all([read(event, '/api/classes', Classes), read(event, '/api/cabinet', Cabinet)]);
  const published = classes.filter(({ status }) => status === 'published').sort((a, b) => farFromNow(a.startsAt) - farFromNow(b.startsAt));
  return { classes: published, containers: lots.flatMap(({ containers }) => containers).filter(({ balanceMg }) => balanceMg > 0) };
}

/** More than these are not asked one by one. */
const MOST_NEEDS = 12;

/** What the cards of these classes need, in words by class id ("262 g of sodium hydroxide, lot 7"), and the lots they were made for. */
export async function needsOf(event: Caller, classes: readonly { id: string }[]): Promise<{ words: Record<string, string>; lotIds: Set<string> }> {
  const found = await Promise.all(classes.slice(0, MOST_NEEDS).map(({ id }) => read(event, `/api/classes/${id}`, ClassOut)));
  const inWords = (need: (typeof found)[number]['stock'][number]) =>
    `${formatMass(need.neededMg)} of ${need.substance.toLowerCase()}${need.lotNumber === null ? '' : `, lot ${need.lotNumber}`}`;
  return {
    words: Object.fromEntries(
      found.map(({ id, stock }) => [
        id,
        stock
          .filter(({ neededMg }) => neededMg > 0)
          .map(inWords)
          .join(' and '),
      ]),
    ),
    lotIds: new Set(found.flatMap(({ naohLotId, kohLotId }) => [naohLotId, kohLotId]).filter((id) => id !== null)),
  };
}

/** What a class's cards need of a substance, and of which lot; null where they need none. */
export async function needOf(event: Caller, classId: string, container: ContainerOut) {
  const ofClass = await read(event, `/api/classes/${encodeURIComponent(classId)}`, ClassOut);
  const need = ofClass.stock.find(({ substance }) => substance === NAME_OF[container.substance]);
  const plannedLotId = container.substance === 'NaOH' ? ofClass.naohLotId : ofClass.kohLotId;
  return { neededMg: need?.neededMg ?? 0, plannedLotId, plannedLotNumber: need?.lotNumber ?? null };
}

/** Reads the hand-out form and finds what would be refused, so that the check page only shows what can be recorded. */
export async function handOutFaults(event: Caller, data: FormData): Promise<Faults> {
  const faults = new Faults();
  const { classes, containers } = await choices(event);
  const chosen = classes.find(({ id }) => id === text(data, 'classId'));
  const container = containers.find(({ id }) => id === text(data, 'containerId'));
  if (!chosen) faults.add('classId', 'Choose the class that gets it.');
  if (!container) faults.add('containerId', 'Choose the container that it comes from.');
  if (chosen && container) {
    const { plannedLotId, plannedLotNumber } = await needOf(event, chosen.id, container);
    if (plannedLotId !== null && plannedLotId !== container.lotId)
      faults.add(
        'containerId',
        `The weigh cards of ${chosen.title} were made for lot ${plannedLotNumber ?? 'another lot'} of ${nameIn(container.substance)}; ${container.label} holds lot ${container.lotNumber}.`,
      );
  }
  const massMg = faults.massMg(data, 'mass', 'Write the mass that was handed out.');
  if (massMg === 0) faults.add('mass', 'Nothing was handed out: the mass is 0 g.');
  if (massMg !== null && container && massMg > container.balanceMg)
    faults.add('mass', `Container ${container.label} holds ${formatMass(container.balanceMg)} by the book; ${formatMass(massMg)} cannot leave it.`);
  faults.stepMg(data, 'scaleStep');
  return faults;
}
