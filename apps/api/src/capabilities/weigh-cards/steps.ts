import type { CardStep } from '@ashwater/contracts';
import { acidByKey } from '@ashwater/formulation';
import type { PlanLine, WeighPlan } from '@ashwater/formulation';

type Draft = Omit<CardStep, 'no' | 'lineKey' | 'targetMg' | 'acceptLowMg' | 'acceptHighMg' | 'lowC' | 'highC'> & Partial<CardStep>;

const SDS = "Follow the supplier's safety data sheet.";
const SPLASH = `Burns skin and blinds. Goggles and gloves stay on. On skin or in eyes: water at once, at least 15 minutes, and call for help. ${SDS}`;

function weigh(line: PlanLine, words: Pick<Draft, 'title' | 'instruction' | 'reason'> & Partial<Draft>): Draft {
  return {
    kind: 'weigh',
    caustic: false,
    caution: null,
    lineKey: line.key,
    targetMg: line.targetMg,
    acceptLowMg: line.acceptLowMg,
    acceptHighMg: line.acceptHighMg,
    ...words,
  };
}

const weighFat = (line: PlanLine): Draft =>
  weigh(line, {
    title: `Weigh ${line.name}`,
    instruction: 'Put the fat bowl on the scale, press tare, then add until the display is in the accepted range.',
    reason: 'Too little fat would leave alkali over.',
  });

const weighLateFat = (line: PlanLine): Draft =>
  weigh(line, {
    title: `Weigh ${line.name}, the late fat`,
    instruction: 'Weigh it into a cup of its own, write its name on the cup, and set it aside. It is stirred in last.',
    reason: 'The superfat is of this fat: without it the batter holds more lye than it should.',
  });

const weighIntoFats = (line: PlanLine): Draft =>
  weigh(line, {
    title: `Weigh ${line.name}`,
    instruction: 'Weigh it into a cup of its own. It is stirred into the fats, not into the solution.',
    reason: 'It never meets hot lye, which would scorch it.',
  });

/** A salt takes no lye; an acid does, and its lye is on the card already. */
function weighAcid(line: PlanLine): Draft {
  const takesLye = acidByKey(line.key.slice('acid:'.length))?.takesAlkali ?? true;
  return weigh(line, {
    title: `Weigh ${line.name}`,
    instruction: 'Weigh it into a dry cup, then dissolve it in the liquid in the solution container. Stir until nothing is left on the bottom.',
    reason: takesLye
      ? 'The lye holds extra for it: it must be in the liquid before any lye goes in.'
      : 'It dissolves better before the lye is in; it takes up no lye.',
    caution: takesLye ? `Irritates eyes and skin: goggles and gloves on. Never put it into lye. ${SDS}` : null,
  });
}

const weighAdditive = (line: PlanLine): Draft =>
  weigh(line, {
    title: `Weigh ${line.name}`,
    instruction: 'Weigh it into a small cup of its own and set it aside.',
    reason: 'It goes in at the end, not into the solution.',
  });

const LIQUID_PLACE = 'the solution container (polypropylene, HDPE or stainless steel; no glass, no aluminium)';
const weighLiquid = (line: PlanLine): Draft =>
  weigh(line, {
    title: `Weigh ${line.name}`,
    instruction: `Put ${LIQUID_PLACE} on the scale, press tare, and add ${line.kind === 'ice' ? 'the ice' : 'until the display is in the accepted range'}.`,
    reason: line.kind === 'ice' ? 'The ice takes up the heat, so that the solution does not steam.' : 'All of the liquid is in the container before any lye.',
  });

const weighAlkali = (line: PlanLine): Draft =>
  weigh(line, {
    title: `Weigh ${line.name}`,
    instruction: 'Open the container, weigh into a separate dry cup, and close the container at once.',
    reason: 'This is the line that decides whether a bar is mild or caustic.',
    caution: SPLASH,
    caustic: true,
  });

const CLEAR_BENCH: Draft = {
  kind: 'do',
  title: 'Clear the bench',
  instruction: 'Ventilation on. Only the things of this card on the bench. Nobody without gear near it.',
  reason: 'What is not there cannot be knocked over.',
  caution: null,
  caustic: false,
};
const MIX: Draft = {
  kind: 'do',
  title: 'Add the lye to the liquid',
  instruction: 'Face shield down. Pour the lye into the liquid, a little at a time, stirring until it is clear. Never pour liquid into lye.',
  reason: 'Liquid poured into lye boils up and throws caustic about.',
  caution: SPLASH,
  caustic: true,
};
const LABEL: Draft = {
  kind: 'label',
  title: 'Label the jar',
  instruction: 'Close the lid, weigh what is in the jar, and put its label on.',
  reason: 'A jar without a label is a jar of anything.',
  caution: SPLASH,
  caustic: true,
};
const CLEAN: Draft = {
  kind: 'clean',
  title: 'Clean up',
  instruction: 'Gear stays on. Rinse everything with very cold water, then wipe bench, scale and tools with vinegar.',
  reason: 'Vinegar takes up the last film of lye on surfaces.',
  caution: 'Vinegar is for wiped surfaces only, never for skin. Skin gets water.',
  caustic: true,
};

// Above the estimate by this much a reading says that something else was in the pot than the card assumes.
const PEAK_MARGIN_C = 5;
function measure(plan: WeighPlan): Draft {
  const highC = Math.ceil(plan.peak.temperatureC + PEAK_MARGIN_C);
  return {
    kind: 'temperature',
    title: 'Measure the temperature',
    instruction: 'Stir, hold the thermometer in the middle, and read it.',
    reason: `The ${plan.peak.kind} for this card is ${Math.round(plan.peak.temperatureC)} °C. Hotter than ${highC} °C means that something is not as planned.`,
    caution: 'Hot and caustic: do not lean over it.',
    caustic: true,
    lowC: 0,
    highC,
  };
}

/** The card's steps in the one safe order: fats, liquids, gear, caustic into liquid, label, clean-up. Common practice, no source. */
export function stepsFor(plan: WeighPlan): CardStep[] {
  const of = (...kinds: PlanLine['kind'][]) => plan.lines.filter((line) => kinds.includes(line.kind));
  const drafts: Draft[] = [
    CLEAR_BENCH,
    ...of('fat')
      .filter((line) => !line.late)
      .map(weighFat),
    ...of('fat')
      .filter((line) => line.late)
      .map(weighLateFat),
    ...of('liquid')
      .filter((line) => line.into === 'fats')
      .map(weighIntoFats),
    ...of('additive').map(weighAdditive),
    ...of('water').map(weighLiquid),
    ...of('liquid')
      .filter((line) => line.into !== 'fats')
      .map(weighLiquid),
    ...of('acid').map(weighAcid),
    ...of('ice').map(weighLiquid),
    ...of('naoh', 'koh').map(weighAlkali),
    MIX,
    measure(plan),
    LABEL,
    CLEAN,
  ];
  const blank = { lineKey: null, targetMg: null, acceptLowMg: null, acceptHighMg: null, lowC: null, highC: null };
  return drafts.map((draft, i) => ({ ...blank, ...draft, no: i + 1 }));
}
