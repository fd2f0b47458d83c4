import type { ClassCheckKey, ClassOut, ReadyItem } from '@ashwater/contracts';
import { formatMass } from '@ashwater/formulation';

type Check = { sound: boolean; remark: string; at: Date; byName: string };
export type Facts = Pick<ClassOut, 'readiness' | 'stock' | 'totals'> & {
  classId: string;
  stations: number;
  scales: { faults: number; notes: number };
  potsUnknown: string[];
  seatsTaken: number;
  sparePercent: number;
  before: { title: string; unreviewed: number } | null;
  /** Follow-ups to notes that are past their day, of whichever class. */
  overdue: number;
  checks: ReadonlyMap<string, Check>;
  now: Date;
};

/** Without these caustic is not opened: a class where one was found wanting is not published. */
export const BLOCKING: readonly ClassCheckKey[] = ['ventilation', 'eyewash'];
const DAY_MS = 86_400_000;
/** Expected at a station where nobody has joined yet: common practice, no source. */
const SEATS_AT_STATION = 2;

const plain = (item: Pick<ReadyItem, 'key' | 'title' | 'state' | 'words' | 'link'>): ReadyItem => ({ ...item, checkKey: null, byName: null, at: null });

function plans({ readiness }: Facts): ReadyItem {
  const unsafe = readiness.filter((item) => !item.safe).map((item) => item.name);
  const state = unsafe.length === 0 ? 'done' : 'fault';
  const words = unsafe.length === 0 ? 'Every station has a safe plan on its own scale.' : `No safe plan: ${unsafe.join(', ')}.`;
  return plain({ key: 'plans', title: 'Weigh plans', state, words, link: '#ready' });
}
function scales({ scales: { faults, notes } }: Facts): ReadyItem {
  const words =
    faults > 0
      ? `${faults} of the scales was past its limit at the last check weighing.`
      : notes > 0
        ? `${notes} of the scales without a check weighing that still counts: the plans allow for what their class may be off.`
        : 'Every scale was checked with a known mass.';
  return plain({ key: 'scales', title: 'Checks of the scales', state: faults > 0 ? 'fault' : notes > 0 ? 'open' : 'done', words, link: '/studio/stations' });
}
const isOld = (day: string, limitDays: number, now: Date): boolean => Math.floor((now.getTime() - Date.parse(`${day}T00:00:00Z`)) / DAY_MS) > limitDays;
function stock({ stock: needs, classId }: Facts): ReadyItem {
  const short = needs.filter((need) => need.lotNumber !== null && !need.enough);
  const unnamed = needs.filter((need) => need.lotNumber === null);
  const words = [
    ...short.map((need) => `${need.substance}, lot ${need.lotNumber}: ${formatMass(need.neededMg - need.inCabinetMg)} short.`),
    ...unnamed.map((need) => `No lot of ${need.substance.toLowerCase()} is chosen.`),
  ];
  const state = short.length > 0 ? 'fault' : unnamed.length > 0 ? 'open' : 'done';
  const link = unnamed.length > 0 ? `/class/${classId}/edit` : '/studio/cabinet';
  return plain({ key: 'stock', title: 'Caustic in the cabinet', state, words: words.join(' ') || 'Enough of every lot.', link });
}
function sheets({ stock: needs, now }: Facts): ReadyItem | null {
  const known = needs.filter((need) => need.sheet !== null);
  if (known.length === 0) return null;
  const words = known.flatMap(({ lotNumber, sheet }) => {
    if (!sheet?.link) return [`Lot ${lotNumber} has no safety data sheet.`];
    const { revisedOn, limitDays, expiryWords } = sheet;
    const expiry = expiryWords === '' ? [] : [`Lot ${lotNumber}: ${expiryWords}`];
    if (revisedOn === null) return [`It is not known how old the sheet of lot ${lotNumber} is.`, ...expiry];
    const old = `The sheet of lot ${lotNumber} is of ${revisedOn}, older than the studio’s limit of ${limitDays} days: ask the supplier.`;
    return [...(isOld(revisedOn, limitDays, now) ? [old] : []), ...expiry];
  });
  const state = words.length === 0 ? 'done' : 'open';
  return plain({ key: 'sheets', title: 'Safety data sheets', state, words: words.join(' ') || 'One for each lot, in date.', link: '/studio/cabinet' });
}
function followUps({ before, overdue }: Facts): ReadyItem {
  const n = before?.unreviewed ?? 0;
  const late = overdue === 0 ? '' : ` ${overdue} ${overdue === 1 ? 'follow-up to a note is' : 'follow-ups to notes are'} past the day.`;
  const words = !before
    ? 'There was no class before.'
    : n === 0
      ? `Nothing open from ${before.title}.`
      : `${n} ${n === 1 ? 'note' : 'notes'} from ${before.title} not reviewed yet.`;
  const link = overdue > 0 ? '/studio/notes/follow-ups' : n > 0 ? '/studio/notes' : null;
  return plain({ key: 'follow-ups', title: 'Last class and follow-ups', state: link === null ? 'done' : 'open', words: `${words}${late}`, link });
}

type Human = { key: ClassCheckKey; title: string; words: string; link: string | null };
function humans(facts: Facts): Human[] {
  const { classId, stations, seatsTaken, sparePercent, potsUnknown, totals } = facts;
  const people = Math.max(seatsTaken, stations * SEATS_AT_STATION);
  const spares = Math.ceil((people * sparePercent) / 100);
  const ice = totals.filter((total) => total.kind === 'ice').reduce((sum, total) => sum + total.totalMg, 0);
  const prints = `/class/${classId}/prints`;
  const pots = potsUnknown.length > 0 ? ` Of an unknown material: ${potsUnknown.join(', ')}.` : '';
  return [
    { key: 'ventilation', title: 'Ventilation', words: 'Runs, and the air moves away from faces.', link: null },
    { key: 'eyewash', title: 'Eyewash', words: 'Within reach, free of things before it, tried with running water.', link: null },
    { key: 'gear', title: 'Gear', words: `For ${people} people, and ${spares} spare of each: goggles, gloves, and what the gear lists name.`, link: prints },
    {
      key: 'containers',
      title: 'Containers with lids',
      words: `One a station, of polypropylene (5), HDPE (2) or stainless steel, each with its lid.${pots}`,
      link: potsUnknown.length > 0 ? '/studio/stations' : null,
    },
    ...(ice > 0 ? [{ key: 'ice' as const, title: 'Ice', words: `${formatMass(ice)} in the freezer, spare included.`, link: `/class/${classId}/totals` }] : []),
    { key: 'first-aid', title: 'First-aid sheet', words: 'Printed, and on the wall beside the water.', link: prints },
  ];
}

/** What is ready and what is not: first what the service knows, then what only a person in the room can see. */
export function checklist(facts: Facts): ReadyItem[] {
  const sheet = sheets(facts);
  const known = [plans(facts), scales(facts), stock(facts), ...(sheet ? [sheet] : []), followUps(facts)];
  const looked = humans(facts).map(({ key, title, words, link }): ReadyItem => {
    const check = facts.checks.get(key);
    const state = check ? (check.sound ? 'done' : 'fault') : 'open';
    const said = check?.remark ? `${words} ${check.byName} wrote: ${check.remark}` : words;
    return { key, checkKey: key, title, state, words: said, link, byName: check?.byName ?? null, at: check?.at.toISOString() ?? null };
  });
  return [...known, ...looked];
}
