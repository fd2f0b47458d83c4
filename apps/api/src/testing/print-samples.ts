import type { CardOut, CardStep, JarOut } from '@ashwater/contracts';
import type { Stamp } from '../capabilities/prints/sheets/stamp.ts';
import { newId } from '../ids.ts';

/** A stamp at a known moment: 14:30 in Lisbon on a winter's day. */
export const STAMP: Stamp = {
  studioName: 'Heron Lane Studio',
  zone: 'Europe/Lisbon',
  emergencyPhone: '112',
  printedAt: new Date('2026-12-05T14:30:00Z'),
  origin: 'https://studio.example.org',
};

type Line = CardOut['content']['lines'][number];
const line = (key: string, kind: Line['kind'], name: string, targetMg: number): Line => ({
  key,
  kind,
  name,
  exactMg: targetMg + 123,
  targetMg,
  acceptLowMg: targetMg - 1500,
  acceptHighMg: targetMg + 500,
  stepMg: 1000,
});

const BLANK = { lineKey: null, targetMg: null, acceptLowMg: null, acceptHighMg: null, lowC: null, highC: null, caution: null, caustic: false } as const;
const SPLASH = 'Burns skin and blinds. Goggles and gloves stay on. On skin or in eyes: water at once, at least 15 minutes, and call for help.';
const weighing = (of: Line): Omit<CardStep, 'no'> => ({
  ...BLANK,
  kind: 'weigh',
  title: `Weigh ${of.name}`,
  instruction: 'Put the bowl on the scale, press tare, then add until the display is in the accepted range.',
  reason: 'Too little fat would leave alkali over.',
  lineKey: of.key,
  targetMg: of.targetMg,
  acceptLowMg: of.acceptLowMg,
  acceptHighMg: of.acceptHighMg,
  ...(of.kind === 'naoh' || of.kind === 'koh' ? { caution: SPLASH, caustic: true } : {}),
});
const AFTER: Omit<CardStep, 'no'>[] = [
  {
    ...BLANK,
    kind: 'do',
    title: 'Add the lye to the liquid',
    instruction: 'Pour the lye into the liquid, a little at a time, stirring.',
    reason: 'Liquid poured into lye boils up.',
    caution: SPLASH,
    caustic: true,
  },
  {
    ...BLANK,
    kind: 'temperature',
    title: 'Measure the temperature',
    instruction: 'Stir and read it.',
    reason: 'Hotter means that something is not as planned.',
    caution: 'Do not lean over it.',
    caustic: true,
    lowC: 0,
    highC: 58,
  },
  {
    ...BLANK,
    kind: 'label',
    title: 'Label the jar',
    instruction: 'Close the lid, weigh what is in the jar, and put its label on.',
    reason: 'A jar without a label is a jar of anything.',
    caution: SPLASH,
    caustic: true,
  },
  {
    ...BLANK,
    kind: 'clean',
    title: 'Clean up',
    instruction: 'Gear stays on. Rinse with very cold water, then wipe with vinegar.',
    reason: 'Vinegar takes up the last film.',
    caution: 'Never on skin.',
    caustic: true,
  },
];
const GEAR = ['Splash goggles', 'Face shield', 'Gloves', 'Long sleeves', 'Long trousers', 'Closed shoes', 'Hair and scarves', 'Respirator'].map((name, i) => ({
  key: `gear-${i}`,
  name,
  check: `What the wearer of ${name.toLowerCase()} looks at, and where`,
}));

type Wanted = { n?: number; fats?: string[]; additives?: string[]; station?: string; change?: Partial<CardOut['content']> };
/** A card as issued, with its number from `n`. The masses are no recipe: only what a print makes of them counts. */
export function sampleCard({ n = 1, fats = ['Olive oil', 'Coconut oil'], additives = [], station, change = {} }: Wanted = {}): CardOut {
  const lines = [
    ...fats.map((name, i) => line(`fat:${i}`, 'fat', name, 240_000 + 1_000 * i)),
    ...additives.map((name, i) => line(`additive:${i}`, 'additive', name, 5_000 + 1_000 * i)),
    line('water', 'water', 'Water', 54_000),
    line('ice', 'ice', 'Ice from water', 162_000),
    line('naoh', 'naoh', 'Sodium hydroxide', 1_141_000),
  ];
  const steps = [...lines.map(weighing), ...AFTER].map((step, i) => ({ ...step, no: i + 1 }));
  return {
    id: newId(),
    classId: newId(),
    classStationId: newId(),
    number: `W-${String(n).padStart(4, '0')}`,
    issue: 2,
    issuedAt: '2026-12-01T10:00:00Z',
    joinCode: `K7TP${String(n).padStart(2, '2')}`,
    voided: false,
    changes: [],
    content: {
      recipeTitle: 'Plain olive bar',
      recipeVersionNumber: 3,
      classTitle: 'Saturday beginners',
      startsAt: '2026-12-12T10:00:00Z',
      room: 'Back room',
      stationName: station ?? `Station ${n}`,
      mouldName: 'Loaf, nine bars',
      mouldVolumeMl: 1100,
      scaleStepMg: 1000,
      lines,
      steps,
      gear: GEAR,
      superfatAimPercent: 8,
      superfatBandPercent: { low: 4.2, nominal: 8, high: 11.6 },
      lyeConcentrationPercent: 33.3,
      peakTemperatureC: 52.6,
      peakKind: 'upper bound',
      steam: 'none',
      batchMassMg: 1_010_400,
      solutionMassMg: 357_000,
      words: 'Safe: the superfat stays above zero.',
      warnings: ['The solution is warm: let it cool before it is poured.'],
      hazard: { signalWord: 'Danger', classification: 'Skin Corr. 1A', statements: [{ code: 'H314', text: 'Causes severe skin burns and eye damage.' }] },
      lots: [{ substance: 'NaOH', lotNumber: 'L-2026-07', purityPercent: 98.5 }],
      ...change,
    },
  };
}

// As long as a name may be: 80 characters, one of them without a blank.
const LONG = [
  'Cold pressed oil of the very long named plant from the far end of the garden',
  'Unbrokenlongnameofanadditivewithoutasingleblankinitthatmustbecutsomewheretofit',
];
/** Twenty fats and fifteen additives with long names, every text as long as it may become. */
export const longCard = (n = 1): CardOut =>
  sampleCard({
    n,
    station: 'The bench at the window beside the wash basin, left of the door, number seven',
    fats: Array.from({ length: 20 }, (_, i) => `${LONG[i % 2]} ${i}`),
    additives: Array.from({ length: 15 }, (_, i) => `${LONG[(i + 1) % 2]} ${i}`),
    change: {
      recipeTitle: 'A recipe with as many fats as anybody ever weighed and a title to go with it',
      classTitle: 'The long Saturday class for people who want to weigh every single thing once',
      warnings: Array.from({ length: 8 }, (_, i) => `Warning ${i}: ${SPLASH} ${SPLASH}`),
    },
  });

export const sampleJar = (change: Partial<JarOut> = {}): JarOut => ({
  id: newId(),
  number: 'J-0042',
  contents: 'Solution of sodium hydroxide',
  concentrationPercent: 33.3,
  massMg: 351_000,
  madeAt: '2026-12-12T11:05:00Z',
  discardOn: '2026-12-26',
  madeBy: 'Sam',
  stationName: 'Station 1',
  classTitle: 'Saturday beginners',
  state: 'in date',
  nowMg: 351_000,
  nowConcentrationPercent: 33.3,
  place: '',
  goneHow: null,
  ...change,
});
