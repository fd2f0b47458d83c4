import { mouldVolumeMl, parseDecimal } from '@ashwater/formulation';
import type { MouldMeasure, Outcome } from '@ashwater/formulation';

/** How a mould is measured in the editor, as typed: inside dimensions, or the water that fills it. Nothing of it is saved. */
export type MouldForm = Record<(typeof MOULD_FIELDS)[number], string>;
export const MOULD_FIELDS = ['kind', 'lengthMm', 'widthMm', 'diameterMm', 'depthMm', 'waterG'] as const;

export const mouldFormOf = (typed: Readonly<Record<string, string>>): MouldForm => ({
  ...(Object.fromEntries(MOULD_FIELDS.map((name) => [name, typed[`mould/${name}`] ?? ''])) as MouldForm),
  kind: typed['mould/kind'] || 'box',
});
export const mouldFieldsOf = (form: MouldForm): Record<string, string> => Object.fromEntries(MOULD_FIELDS.map((name) => [`mould/${name}`, form[name]]));

/** "240", "240 mm" and "24 cm" are the same; NaN where nothing can be read. */
function lengthMm(typed: string): number {
  const cm = /cm\s*$/i.test(typed);
  const read = parseDecimal(typed.replace(/\s*[cm]m\s*$/i, ''), { name: '', min: 0, max: 10_000, maxDecimals: 2 });
  return read.ok ? read.value.value * (cm ? 10 : 1) : Number.NaN;
}

function measureOf(form: MouldForm): MouldMeasure {
  const depthMm = lengthMm(form.depthMm);
  if (form.kind === 'cylinder') return { kind: 'cylinder', diameterMm: lengthMm(form.diameterMm), depthMm };
  if (form.kind !== 'water') return { kind: 'box', lengthMm: lengthMm(form.lengthMm), widthMm: lengthMm(form.widthMm), depthMm };
  const water = parseDecimal(form.waterG.replace(/\s*g\s*$/i, ''), { name: '', min: 0, max: 100_000, maxDecimals: 2 });
  // From the tap or the jug: 10 K either way change the volume by a quarter of a percent.
  return { kind: 'water', waterMassMg: water.ok ? Math.round(water.value.value * 1000) : Number.NaN, waterTemperatureC: 20 };
}

const USED: Record<string, readonly (keyof MouldForm)[]> = { cylinder: ['diameterMm', 'depthMm'], water: ['waterG'] };
/** True once every field of the chosen way holds something: before that a fault would only be noise. */
export const mouldIsTyped = (form: MouldForm): boolean => (USED[form.kind] ?? ['lengthMm', 'widthMm', 'depthMm']).every((name) => form[name].trim() !== '');

/** The mould's volume in whole mL, or what is wrong with the measures. */
export function mouldOf(form: MouldForm): Outcome<{ volumeMl: number }> {
  const volume = mouldVolumeMl(measureOf(form));
  return volume.ok ? { ok: true, value: { volumeMl: Math.round(volume.value.volumeMl) } } : volume;
}
