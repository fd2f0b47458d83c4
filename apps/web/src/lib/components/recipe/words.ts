import type { Contribution, Formula, Interval } from '@ashwater/formulation';

const figure = (value: number, decimals: number): string => String(Number(value.toFixed(decimals))).replace('-', '−');

export const percent = (value: number, decimals = 2): string => `${figure(value, decimals)} %`;

/** One decimal, outward: a stated band never looks better than it is. */
export function bandWords({ low, high }: Pick<Interval, 'low' | 'high'>): string {
  return `${figure(Math.floor(low * 10) / 10, 1)} to ${figure(Math.ceil(high * 10) / 10, 1)} %`;
}

/** "about 71 °C, an estimate" or "at most 86 °C, an upper bound": never a bare figure. */
export function peakWords({ temperatureC, kind }: Pick<Formula['peak'], 'temperatureC' | 'kind'>): string {
  const degrees = `${Math.ceil(temperatureC)} °C`;
  return kind === 'estimate' ? `about ${degrees} (estimate)` : `at most ${degrees} (upper bound)`;
}

export function alkaliWords(kohSharePercent: number): string {
  if (kohSharePercent === 0) return 'Sodium hydroxide';
  if (kohSharePercent === 100) return 'Potassium hydroxide';
  return `Both: potassium hydroxide meets ${percent(kohSharePercent)} of the need, sodium hydroxide the rest`;
}

/** "62 to 74": whole figures, outward, so that a range never looks narrower than it is. */
export const rangeWords = ({ low, high }: Pick<Interval, 'low' | 'high'>): string => `${Math.floor(low)} to ${Math.ceil(high)}`;

/** A volume as far as the model is good: three figures. */
export function volumeWords({ low, nominal, high }: Interval): string {
  const round = (value: number) => Number(value.toPrecision(3));
  return `about ${round(nominal)} mL (${round(low)} to ${round(high)} mL)`;
}

export const degrees = (celsius: number): string => `${figure(celsius, 1)} °C`;
export const boilingWords = (celsius: number): string => degrees(Math.floor(celsius));

/** Whole grams, or tenths under 10 g: what follows from an estimate is not shown finer. */
export function gramWords(massMg: number): string {
  const grams = massMg / 1000;
  return `${figure(grams, grams < 10 ? 1 : 0).replace(/\B(?=(\d{3})+$)/u, '\u202f')}\u00a0g`;
}

/** "950 to 1 060 g": outward, in whole grams. */
export const gramRangeWords = ({ low, high }: Pick<Interval, 'low' | 'high'>): string =>
  `${gramWords(Math.floor(low / 1000) * 1000).replace(/\u00a0g$/u, '')} to ${gramWords(Math.ceil(high / 1000) * 1000)}`;

/** "likely 3.9 to 8.1 % (k = 2)": one decimal, outward as the worst case is. */
export const likelyWords = (likely: Pick<Interval, 'low' | 'high'>): string => `${bandWords(likely)} (k = 2)`;

/** "saponification value of Olive oil: 1.9 points, 92 % of the variance". */
export function contributionWords({ what, standardUncertainty, varianceSharePercent }: Contribution): string {
  const points = standardUncertainty < 0.01 ? 'under 0.01 points' : `${figure(standardUncertainty, standardUncertainty < 0.1 ? 2 : 1)} points`;
  const share = varianceSharePercent < 1 ? 'under 1 %' : percent(varianceSharePercent, 0);
  return `${what}: ${points}, ${share} of the variance`;
}

/** "18 °C under its boiling point", or that it reaches it. */
export function marginWords(marginC: number): string {
  return marginC > 0 ? `${Math.floor(marginC)} °C under boiling at its nearest` : 'reaches its boiling point';
}

/** How much ice is left at the end, in words a person acts by. */
export const iceLeftWords = (iceLeftMg: number): string => (iceLeftMg > 0 ? `about ${gramWords(iceLeftMg)} of ice left at the end` : 'no ice left at the end');

/** What masses are for: "for 1 kg of fat", or "for 1100 mL" of a mould being tried. */
export const amountWords = (mouldMl: string): string => {
  const volume = mouldMl.trim().replace(/\s*ml$/iu, '');
  return volume === '' ? 'for 1 kg of fat' : `for ${volume} mL`;
};
