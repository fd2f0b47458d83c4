import { figure } from './check-number.ts';
import { KOH_G_PER_MOL, NAOH_G_PER_MOL } from './alkali.ts';
import { molarMass } from './molar-mass.ts';
import type { Outcome } from './outcome.ts';
import { checkMass, checkPercent, whenSound } from './when-sound.ts';

const ACETIC_G_PER_MOL = molarMass({ C: 2, H: 4, O: 2 });

/** Household vinegar, mass percent acetic acid, and its density in g/mL; common practice and from memory. */
const VINEGAR_PERCENT = 5;
const VINEGAR_G_PER_ML = 1.005;

/** Heat of neutralising a strong base with acetic acid, kJ/mol, close to 56 of a strong acid; from memory. */
const HEAT_KJ_PER_MOL = 55;

export type Neutralisation = { vinegarMg: number; vinegarMl: number; heatKJ: number; words: string };

/** Film and dry alkali: mass in mg, alkali in mass percent. */
export type Remainder = { massMg: number; kind: 'NaOH' | 'KOH'; concentrationPercent: number };

function vinegarFor(remainder: Remainder, vinegarPercent: number): Omit<Neutralisation, 'words'> {
  const mmol = (remainder.massMg * remainder.concentrationPercent) / 100 / (remainder.kind === 'NaOH' ? NAOH_G_PER_MOL : KOH_G_PER_MOL);
  const vinegarMg = (mmol * ACETIC_G_PER_MOL * 100) / vinegarPercent;
  return { vinegarMg, vinegarMl: vinegarMg / 1000 / VINEGAR_G_PER_ML, heatKJ: (mmol / 1000) * HEAT_KJ_PER_MOL };
}

function checkRemainder(remainder: Remainder, vinegarPercent: number) {
  return [
    ...checkMass(remainder.massMg, '/massMg', 'What is left on the surface'),
    ...checkPercent(remainder.concentrationPercent, '/concentrationPercent', 'Its concentration'),
    ...checkPercent(vinegarPercent, '/vinegarPercent', 'The acetic acid of the vinegar', { min: 1, max: 10 }),
  ];
}

/**
 * Vinegar that neutralises the last film on a surface already wiped and rinsed: one mole of acetic
 * acid for one of hydroxide. It teaches how little is enough on a film.
 */
export function vinegarForRinseFilm(film: Remainder, vinegarPercent = VINEGAR_PERCENT): Outcome<Neutralisation> {
  return whenSound(checkRemainder(film, vinegarPercent), () => {
    const figures = vinegarFor(film, vinegarPercent);
    const words = `About ${figure(Math.ceil(figures.vinegarMl), 0)} mL of ${figure(vinegarPercent, 1)} % vinegar neutralise this film. Only on a surface that is wiped and rinsed already; never on skin or in eyes: those are rinsed with much water at once.`;
    return { ...figures, words };
  });
}

/**
 * The same sum for a spill, as the reason not to do it: litres of vinegar, and the heat goes into
 * lye that is still strong. A spill is contained, taken up with gear on, and rinsed with much water.
 */
export function whyNotVinegarOnSpill(spill: Remainder, vinegarPercent = VINEGAR_PERCENT): Outcome<Neutralisation> {
  return whenSound(checkRemainder(spill, vinegarPercent), () => {
    const figures = vinegarFor(spill, vinegarPercent);
    const words = `A spill is not treated with vinegar: this one would need about ${figure(figures.vinegarMl / 1000, 1)} L, set free ${figure(figures.heatKJ, 0)} kJ of heat where the lye is still strong, spread it and splash. Keep people away, gear on, take it up as the supplier's safety data sheet says, then rinse with much water.`;
    return { ...figures, words };
  });
}
