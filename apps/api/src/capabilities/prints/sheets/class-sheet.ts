import type { CardOut } from '@ashwater/contracts';
import { formatMass } from '@ashwater/formulation';
import type { Need } from '../pull-list.ts';
import { boxed, facts, gap, heading, paragraph } from './blocks.ts';
import type { Block, Section } from './flow.ts';
import type { Pen } from './pen.ts';
import { frameOf } from './stamp.ts';
import type { Head, Stamp } from './stamp.ts';
import { table } from './table.ts';
import type { Row } from './table.ts';
import { recipeName } from './weigh-card.ts';
import { celsius, dayWords, percent, plural, rounded, timeWords } from './words.ts';

/** What a class-wide sheet needs to know of its class. */
export type ClassFacts = { id: string; title: string; startsAt: Date; room: string; recipe: string; cards: readonly string[] };

export function classHead(facts: ClassFacts, zone: string, title: string): Head {
  const { recipe, cards } = facts;
  const numbers = cards.length > 0 ? `Cards ${cards.join(', ')}` : 'No card issued yet';
  return {
    title,
    lines: [`${facts.title}, ${timeWords(facts.startsAt, zone)}${facts.room ? `, ${facts.room}` : ''}`, recipe, numbers],
    identity: `${title}: ${facts.title}. ${recipe}`,
    qr: { path: `/class/${facts.id}`, says: 'Class, staff only' },
    voidAfter: dayWords(facts.startsAt, zone),
  };
}

/** Cards as "W-0001, issue 1". */
export const cardNumbers = (cards: readonly CardOut[]): string[] => cards.map(({ number, issue }) => `${number} issue ${issue}`);

const alkaliMg = ({ content }: CardOut) => content.lines.reduce((sum, { kind, targetMg }) => sum + (kind === 'naoh' || kind === 'koh' ? targetMg : 0), 0);

function stations(pen: Pen, cards: readonly CardOut[]): Block[] {
  const rows = cards.map((card): Row => {
    const { content } = card;
    return [
      { bold: content.stationName },
      `${card.number}, issue ${card.issue}`,
      card.joinCode,
      content.mouldName,
      formatMass(content.scaleStepMg),
      formatMass(alkaliMg(card)),
    ];
  });
  return table(
    pen,
    [
      { title: 'Station', share: 4 },
      { title: 'Weigh card', share: 3 },
      { title: 'Join code', share: 2 },
      { title: 'Mould', share: 4 },
      { title: 'Scale step', share: 2, right: true },
      { title: 'Alkali', share: 2.2, right: true },
    ],
    rows,
  );
}

/** One block of facts for each recipe in the class: of its cards the widest band and the hottest solution. */
function recipes(pen: Pen, cards: readonly CardOut[]): Block[] {
  const byRecipe = Map.groupBy(
    cards.map(({ content }) => content),
    recipeName,
  );
  return [...byRecipe].flatMap(([name, here]) => {
    const low = Math.min(...here.map(({ superfatBandPercent }) => superfatBandPercent.low));
    const high = Math.max(...here.map(({ superfatBandPercent }) => superfatBandPercent.high));
    const hottest = here.reduce((most, content) => (content.peakTemperatureC > most.peakTemperatureC ? content : most));
    const strongest = Math.max(...here.map((content) => content.potConcentrationPercent ?? content.lyeConcentrationPercent));
    return [
      paragraph(pen, name, { bold: true }, { gapMm: 0.5 }),
      ...facts(pen, [
        ['Superfat band', `${rounded(low)} to ${percent(high)}`],
        ['Lye concentration', percent(strongest)],
        ['Peak temperature', `${celsius(Math.round(hottest.peakTemperatureC))}, ${hottest.peakKind}`],
        ['Solution is labelled', hottest.hazard.signalWord || 'not classified'],
      ]),
      gap(1.5),
    ];
  });
}

/** Names known, and as many blank lines as make at least this many at a station. */
const ROSTER_LINES = 2;
function roster(pen: Pen, cards: readonly CardOut[], names: ReadonlyMap<string, readonly string[]>): Block[] {
  const rows = cards.flatMap((card): Row[] => {
    const here = names.get(card.classStationId) ?? [];
    return Array.from({ length: Math.max(ROSTER_LINES, here.length) }, (_, i) => [here[i] ?? null, card.content.stationName, null, null, null]);
  });
  return table(
    pen,
    [
      { title: 'Name', share: 5 },
      { title: 'Station', share: 3.5 },
      { title: 'Gear signed', share: 2 },
      { title: 'Jar number', share: 2 },
      { title: 'Out of the room', share: 2.2 },
    ],
    rows,
    10,
  );
}

/** The instructor's sheet: stations, recipe, what the class needs in all, and who was there. */
export function classSheet(
  pen: Pen,
  stamp: Stamp,
  about: ClassFacts,
  cards: readonly CardOut[],
  needs: readonly Need[],
  names: ReadonlyMap<string, readonly string[]>,
): Section {
  const totals = needs.map(({ item, lot, massMg, stations: at }): Row => [lot ? `${item}, lot ${lot}` : item, formatMass(massMg), plural(at, 'station')]);
  return {
    frame: frameOf(pen, stamp, classHead(about, stamp.zone, 'Class sheet')),
    blocks: [
      boxed(pen, 'STOP', `Anyone may stop the room: say so aloud. Emergency call: ${stamp.emergencyPhone}.`),
      heading(pen, `Stations (${cards.length})`),
      ...stations(pen, cards),
      gap(4),
      heading(pen, 'Recipe'),
      ...recipes(pen, cards),
      gap(2),
      heading(pen, 'In all, without spare'),
      ...table(
        pen,
        [
          { title: 'What', share: 6 },
          { title: 'Mass', share: 2, right: true },
          { title: 'For', share: 2 },
        ],
        totals,
      ),
      gap(4),
      heading(pen, 'Roster'),
      ...roster(pen, cards, names),
    ],
  };
}
