import type { StationView } from '@ashwater/contracts';
import type { Deed } from './act.ts';

/** As typed, with the unit that was asked for where none was typed. */
const withUnit = (typed: string, unit: string): string => (/[a-z]\s*$/i.test(typed) ? typed.trim() : `${typed.trim()}\u00a0${unit}`);

/** What an act says, in one line that can be read and copied by hand. */
export function wordsOf(deed: Deed, view: StationView): string {
  const title = (no: number) => view.card.content.steps.find((step) => step.no === no)?.title ?? '';
  switch (deed.kind) {
    case 'reading': {
      const weighed = view.card.content.steps.find((step) => step.no === deed.stepNo)?.kind === 'weigh';
      return `Step ${deed.stepNo}, ${title(deed.stepNo)}: read ${withUnit(deed.entered, weighed ? 'g' : '°C')}`;
    }
    case 'done':
      return `Step ${deed.stepNo}, ${title(deed.stepNo)}: done`;
    case 'jar':
      return `Step ${deed.stepNo}, ${title(deed.stepNo)}: ${withUnit(deed.mass, 'g')} in the jar`;
    case 'gear':
      return `Gear on and checked: ${view.card.content.gear.find((item) => item.key === deed.itemKey)?.name ?? deed.itemKey}`;
    case 'note':
      return `Note, ${deed.told.kind}: ${deed.told.what}`;
    case 'stop':
      return deed.reason ? `Stop the room: ${deed.reason}` : 'Stop the room';
  }
}
