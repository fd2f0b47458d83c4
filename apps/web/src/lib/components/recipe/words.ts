import type { Formula, Interval } from '@ashwater/formulation';

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
