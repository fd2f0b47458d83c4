import { Cabinet, Classes, ClassOut } from '@ashwater/contracts';
import type { ContainerOut } from '@ashwater/contracts';
import { formatMass } from '@ashwater/formulation/quantity';
import { NAME_OF, nameIn } from '../studio/substance.ts';
import { instantOf } from '../zone.ts';
import { read } from './api.ts';
import type { Caller } from './api.ts';
import { Faults } from './faults.ts';
import { text } from './forms.ts';

const farFromNow = (startsAt: string): number => Math.abs(new Date(startsAt).getTime() - Date.now());

/** What a hand-out can choose from: published classes, nearest to now first, and containers that hold something. */
export async function choices(event: Caller) {
  const [{ classes }, { lots, stand }] = await Promise.all([read(event, '/api/classes', Classes), read(event, '/api/cabinet', Cabinet)]);
  const published = classes.filter(({ status }) => status === 'published').sort((a, b) => farFromNow(a.startsAt) - farFromNow(b.startsAt));
  return {
    classes: published,
    containers: lots.flatMap(({ containers }) => containers).filter(({ balanceMg, inHands }) => balanceMg > 0 && !inHands),
    scales: stand.scales,
  };
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

/** What the form's first choice says: the id of a class, or one of these. */
export const purposeOf = (choice: string): 'class' | 'test' | 'disposal' => (choice === 'test' || choice === 'disposal' ? choice : 'class');

/** When it is due back, as typed on a clock of the studio; null where nothing was typed, undefined where it cannot be read. */
export function dueOf(typed: string, zone: string): string | null | undefined {
  if (typed.trim() === '') return null;
  const read = instantOf(typed, zone);
  return 'at' in read ? read.at : undefined;
}

/** Reads the hand-out form and finds what would be refused, so that the check page only shows what can be recorded. */
export async function handOutFaults(event: Caller, data: FormData, zone: string): Promise<Faults> {
  const faults = new Faults();
  const { classes, containers } = await choices(event);
  const choice = text(data, 'classId');
  const purpose = purposeOf(choice);
  const chosen = classes.find(({ id }) => id === choice);
  const container = containers.find(({ id }) => id === text(data, 'containerId'));
  if (!chosen && purpose === 'class') faults.add('classId', 'Choose what it is for.');
  if (!container) faults.add('containerId', 'Choose the container that it comes from.');
  if (chosen && container) await addLotFault(event, faults, chosen, container);
  const massMg = faults.massMg(data, 'mass', 'Write the mass that was handed out.');
  if (massMg === 0) faults.add('mass', 'Nothing was handed out: the mass is 0 g.');
  if (massMg !== null && container) addMassFault(faults, massMg, container, text(data, 'how') === 'whole');
  if (text(data, 'scaleId') === '') faults.stepMg(data, 'scaleStep');
  const due = dueOf(text(data, 'dueAt'), zone);
  if (due === undefined) faults.add('dueAt', 'Write the day and the time it is due back, or leave it blank.');
  else if (due !== null && new Date(due).getTime() <= Date.now()) faults.add('dueAt', 'It is due back at a time that is still to come.');
  return faults;
}

async function addLotFault(event: Caller, faults: Faults, chosen: { id: string; title: string }, container: ContainerOut): Promise<void> {
  const { plannedLotId, plannedLotNumber } = await needOf(event, chosen.id, container);
  if (plannedLotId !== null && plannedLotId !== container.lotId)
    faults.add(
      'containerId',
      `The weigh cards of ${chosen.title} were made for lot ${plannedLotNumber ?? 'another lot'} of ${nameIn(container.substance)}; ${container.label} holds lot ${container.lotNumber}.`,
    );
}

function addMassFault(faults: Faults, massMg: number, container: ContainerOut, whole: boolean): void {
  const { label, balanceMg, tareMg, outMg } = container;
  if (whole && outMg > 0)
    faults.add('containerId', `${formatMass(outMg)} from container ${label} is handed out and can still come back into it. Take that back first.`);
  if (whole && massMg <= tareMg) faults.add('mass', `Container ${label} weighs ${formatMass(tareMg)} when empty. Weigh it again, full and with its lid.`);
  if (!whole && massMg > balanceMg) faults.add('mass', `Container ${label} holds ${formatMass(balanceMg)} by the book; ${formatMass(massMg)} cannot leave it.`);
}
