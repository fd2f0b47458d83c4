import type { CardOut, ClassOut, LabelSheetKey } from '@ashwater/contracts';
import { SUBSTANCE_NAMES } from '@ashwater/contracts';
import { DomainProblem, inputRefused, notFound } from '../../problems/domain-problem.ts';
import type { Context, OrmStaffContext, StaffContext } from '../../request-context.ts';
import { getClass, getClassCards } from '../classes/service.ts';
import { seatsWithGear } from '../gear/service.ts';
import { jarOfCard } from '../jars/service.ts';
import { countSheet, readCabinet } from '../stock/service.ts';
import { csv } from '../../csv.ts';
import { fileName, printFile, printSections } from './print-file.ts';
import type { PrintFile } from './print-file.ts';
import { besides, needsOf } from './pull-list.ts';
import { cabinetSheet } from './sheets/cabinet-sheet.ts';
import { calibrationSheet } from './sheets/calibration-sheet.ts';
import { cardNumbers, classSheet } from './sheets/class-sheet.ts';
import type { ClassFacts } from './sheets/class-sheet.ts';
import { labelOfContainer } from './sheets/container-label.ts';
import { firstAidSheet } from './sheets/first-aid-sheet.ts';
import { gearSheets } from './sheets/gear-sheet.ts';
import { labelOfJar } from './sheets/jar-label.ts';
import type { JarLabel } from './sheets/jar-label.ts';
import { cellsOf, GRIDS } from './sheets/label-grid.ts';
import type { Offset } from './sheets/label-grid.ts';
import { setLabels } from './sheets/label-sheet.ts';
import type { PaperKey } from './sheets/paper.ts';
import { pullSheet } from './sheets/pull-sheet.ts';
import type { Stamp } from './sheets/stamp.ts';
import { recipeName, weighCard } from './sheets/weigh-card.ts';

/** How a print is asked for. `origin` is the address the QR codes lead to. */
export type Wish = { paper: PaperKey; origin: string };

const stampOf = ({ studio, now }: Context, origin: string): Stamp => ({
  studioName: studio.name,
  zone: studio.timeZone,
  emergencyPhone: studio.emergencyPhone,
  printedAt: now,
  origin,
});

/** The cards in force: a voided one is never printed. */
const inForce = (cards: readonly CardOut[]) => cards.filter((card) => !card.voided);
async function cardsToPrint(context: StaffContext, classId: string): Promise<CardOut[]> {
  const cards = inForce((await getClassCards(context, classId)).cards);
  if (cards.length === 0) throw new DomainProblem('class-not-open', 'There is no card to print yet: cards are issued when the class is published.');
  return cards;
}

async function namesAt({ tx, studio, now }: StaffContext, classId: string): Promise<Map<string, string[]>> {
  const seats = await seatsWithGear(tx, studio.id, classId, null, now);
  return new Map([...seats].map(([stationId, here]) => [stationId, here.filter((seat) => !seat.signedOut).map((seat) => seat.name)]));
}

export async function printCards(context: StaffContext, classId: string, wish: Wish): Promise<PrintFile> {
  const cards = await cardsToPrint(context, classId);
  const title = `Weigh cards ${cards[0]!.content.classTitle}`;
  return printSections({ paper: wish.paper, title, at: context.now }, (pen) => cards.map((card) => weighCard(pen, stampOf(context, wish.origin), card)));
}

export async function printGear(context: StaffContext, classId: string, wish: Wish): Promise<PrintFile> {
  const cards = await cardsToPrint(context, classId);
  const names = await namesAt(context, classId);
  const title = `Gear lists ${cards[0]!.content.classTitle}`;
  return printSections({ paper: wish.paper, title, at: context.now }, (pen) =>
    cards.flatMap((card) => gearSheets(pen, stampOf(context, wish.origin), card, names.get(card.classStationId) ?? [], context.studio.gearMinutes)),
  );
}

type Gathered = { room: ClassOut; cards: CardOut[]; names: Map<string, string[]>; about: ClassFacts };
async function gather(context: OrmStaffContext, classId: string, sparePercent?: number): Promise<Gathered> {
  const room = await getClass(context, classId, sparePercent);
  const cards = inForce((await getClassCards(context, classId)).cards);
  const recipes = new Set(cards.length > 0 ? cards.map(({ content }) => recipeName(content)) : [`${room.recipeTitle}, version ${room.recipeVersionNumber}`]);
  const about = {
    id: room.id,
    title: room.title,
    startsAt: new Date(room.startsAt),
    room: room.room,
    recipe: [...recipes].join('; '),
    cards: cardNumbers(cards),
  };
  return { room, cards, names: await namesAt(context, classId), about };
}

export async function printClassSheet(context: OrmStaffContext, classId: string, wish: Wish): Promise<PrintFile> {
  await cardsToPrint(context, classId);
  const { room, cards, names, about } = await gather(context, classId);
  return printSections({ paper: wish.paper, title: `Class sheet ${room.title}`, at: context.now }, (pen) => [
    classSheet(pen, stampOf(context, wish.origin), about, cards, needsOf(cards, room, 0), names),
  ]);
}

/** `spare` left out: that of the class. */
async function pullOf(context: OrmStaffContext, classId: string, spare: number | undefined) {
  const { room, cards, names, about } = await gather(context, classId, spare);
  const sparePercent = spare ?? room.sparePercent;
  const stations = room.stations.length;
  const joined = [...names.values()].reduce((sum, here) => sum + here.length, 0);
  const { vinegar, gloves } = besides(stations, joined, sparePercent);
  return { about, list: { needs: [...needsOf(cards, room, sparePercent), vinegar], gloves, sparePercent } };
}

export async function printPullList(context: OrmStaffContext, classId: string, wish: Wish & { spare?: number | undefined }): Promise<PrintFile> {
  const { about, list } = await pullOf(context, classId, wish.spare);
  return printSections({ paper: wish.paper, title: `Pull list ${about.title}`, at: context.now }, (pen) => [
    pullSheet(pen, stampOf(context, wish.origin), about, list),
  ]);
}

const MG_PER_G = 1000;
// Without it spreadsheets read names with accents wrongly.
const BYTE_ORDER_MARK = '\uFEFF';
/** The same list for a spreadsheet; masses in grams. */
export async function pullListCsv(context: OrmStaffContext, classId: string, spare: number | undefined): Promise<PrintFile> {
  const { about, list } = await pullOf(context, classId, spare);
  const head = ['item', 'lot', 'fetch', 'unit', 'cards_need', 'spare_percent', 'stations', 'note'];
  const weighed = list.needs.map(({ item, lot, pullMg, massMg, stations, note }) => [
    item,
    lot ?? '',
    pullMg / MG_PER_G,
    'g',
    massMg / MG_PER_G,
    list.sparePercent,
    stations,
    note,
  ]);
  const { gloves } = list;
  const counted = [gloves.item, '', gloves.count, gloves.unit, '', list.sparePercent, '', gloves.note];
  return { name: fileName(`Pull list ${about.title}`, 'csv'), bytes: Buffer.from(BYTE_ORDER_MARK + csv([head, ...weighed, counted]), 'utf8') };
}

/** What the first-aid sheet needs of its class, and the lots the class draws from. */
export async function firstAidFacts(context: OrmStaffContext, classId: string) {
  const { room, cards, about } = await gather(context, classId);
  return { about, cards, lotIds: [room.naohLotId, room.kohLotId] };
}

/** The cabinet is read by plain SQL only: its masses come as numbers there. */
export async function printFirstAid(
  context: StaffContext,
  { about, cards, lotIds }: Awaited<ReturnType<typeof firstAidFacts>>,
  wish: Wish,
): Promise<PrintFile> {
  const sheets = (await readCabinet(context))
    .filter((lot) => lotIds.includes(lot.id))
    .map((lot) => ({
      substance: SUBSTANCE_NAMES[lot.substance],
      lotNumber: lot.lotNumber,
      link: lot.sdsLink || 'kept as a file in the cabinet',
      revisedOn: lot.sdsRevisedOn,
    }));
  return printSections({ paper: wish.paper, title: `First aid ${about.title}`, at: context.now }, (pen) => [
    firstAidSheet(pen, stampOf(context, wish.origin), about, cards, sheets),
  ]);
}

export type LabelWish = { grid: LabelSheetKey; start: number; offset: Offset; origin: string; cardId?: string | undefined };

/** Labels for the jars of a class: filled ones in full, the others to be completed by hand. `cardId` asks for one of them. */
export async function printLabels(context: StaffContext, classId: string, wish: LabelWish): Promise<PrintFile> {
  const grid = GRIDS[wish.grid];
  if (wish.start > cellsOf(grid)) throw inputRefused('/start', `This sheet has ${cellsOf(grid)} labels: start at one of them.`);
  const all = await cardsToPrint(context, classId);
  const cards = wish.cardId === undefined ? all : all.filter((card) => card.id === wish.cardId);
  if (cards.length === 0) throw notFound('This weigh card');
  const stamp = stampOf(context, wish.origin);
  const labels: JarLabel[] = [];
  for (const card of cards)
    labels.push(labelOfJar(card, await jarOfCard(context.tx, context.studio, card.id, context.now), stamp, grid.paper === 'letter' ? 'US' : 'EU'));
  const order = { paper: grid.paper, title: `Jar labels ${cards[0]!.content.classTitle}`, at: context.now };
  return printFile(order, (pen) => setLabels(pen, labels, { grid, offset: wish.offset, start: wish.start }, wish.origin));
}

export function printCalibration({ now }: Context, grid: LabelSheetKey, offset: Offset): Promise<PrintFile> {
  return printFile({ paper: GRIDS[grid].paper, title: `Calibration ${GRIDS[grid].name}`, at: now }, (pen) => calibrationSheet(pen, GRIDS[grid], offset));
}

export async function printCabinet(context: StaffContext, wish: Wish): Promise<PrintFile> {
  const containers = await countSheet(context);
  return printSections({ paper: wish.paper, title: 'Cabinet sheet', at: context.now }, (pen) => [cabinetSheet(pen, stampOf(context, wish.origin), containers)]);
}

/** Labels for the containers of a lot that still hold something, or for one of them. */
export async function printContainerLabels(
  context: StaffContext,
  lotId: string,
  wish: Omit<LabelWish, 'cardId'> & { containerId?: string | undefined },
): Promise<PrintFile> {
  const grid = GRIDS[wish.grid];
  if (wish.start > cellsOf(grid)) throw inputRefused('/start', `This sheet has ${cellsOf(grid)} labels: start at one of them.`);
  const lot = (await readCabinet(context)).find(({ id }) => id === lotId);
  if (!lot) throw notFound('The lot');
  const wanted = lot.containers.filter(({ id, balanceMg }) => (wish.containerId === undefined ? balanceMg > 0 : id === wish.containerId));
  if (wanted.length === 0) throw notFound('A container of this lot to label');
  const stamp = stampOf(context, wish.origin);
  const labels = wanted.map((container) => labelOfContainer(lot, container, stamp, grid.paper === 'letter' ? 'US' : 'EU'));
  const order = { paper: grid.paper, title: `Container labels lot ${lot.lotNumber}`, at: context.now };
  return printFile(order, (pen) => setLabels(pen, labels, { grid, offset: wish.offset, start: wish.start }, wish.origin));
}

export type { PrintFile } from './print-file.ts';
