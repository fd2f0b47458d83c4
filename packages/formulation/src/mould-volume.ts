import { checkNumber } from './check-number.ts';
import { waterDensity } from './koh-solution.ts';
import type { FormulationProblem, Outcome } from './outcome.ts';
import { problem } from './outcome.ts';
import { checkMass, checkTemperature, whenSound } from './when-sound.ts';

/**
 * How a mould is measured: by its inside dimensions in mm, or by the water that fills it to the brim, mass in mg and
 * temperature in C. Water finds the volume of any shape, also of one with a pattern or rounded corners.
 */
export type MouldMeasure =
  | { kind: 'box'; lengthMm: number; widthMm: number; depthMm: number }
  | { kind: 'cylinder'; diameterMm: number; depthMm: number }
  | { kind: 'water'; waterMassMg: number; waterTemperatureC: number };

/** The smallest mould of a studio is a bar of 20 mL; past 100 L it is no mould. As in `scaleToMould`. */
const VOLUME = { name: 'The mould volume', unit: 'mL', min: 20, max: 100_000 } as const;

function side(valueMm: number, pointer: string, name: string): FormulationProblem[] {
  return checkNumber(valueMm, pointer, { name, unit: 'mm', min: 5, max: 2000 });
}

function checkMeasure(measure: MouldMeasure): FormulationProblem[] {
  switch (measure.kind) {
    case 'box':
      return [
        ...side(measure.lengthMm, '/lengthMm', 'The inside length'),
        ...side(measure.widthMm, '/widthMm', 'The inside width'),
        ...side(measure.depthMm, '/depthMm', 'The inside depth'),
      ];
    case 'cylinder':
      return [...side(measure.diameterMm, '/diameterMm', 'The inside diameter'), ...side(measure.depthMm, '/depthMm', 'The inside depth')];
    case 'water':
      return [
        ...checkMass(measure.waterMassMg, '/waterMassMg', 'The water that fills the mould', 1),
        ...checkTemperature(measure.waterTemperatureC, '/waterTemperatureC', 'The water temperature', { min: 1, max: 45 }),
      ];
    default:
      return [problem('value-out-of-range', '/kind', 'A mould is measured as a box, as a cylinder, or by the water that fills it.')];
  }
}

/** 1 mL is 1000 mm3; 1 g of water takes up 1 mL over its density. */
function volumeOf(measure: MouldMeasure): number {
  if (measure.kind === 'box') return (measure.lengthMm * measure.widthMm * measure.depthMm) / 1000;
  if (measure.kind === 'cylinder') return (Math.PI * measure.diameterMm ** 2 * measure.depthMm) / 4000;
  return measure.waterMassMg / 1000 / waterDensity(measure.waterTemperatureC);
}

/**
 * Inside volume of a mould in mL, from 20 to 100 000: a box, a cylinder, or the mass of the water that fills it over the
 * density of water at its temperature (Kell 1975, koh-solution.ts).
 *
 * Error: 1 mm on a side of 70 mm is 1.4 %, so a loaf measured with a ruler is good to 3 % or so. By water it is as good as
 * the scale; the buoyancy of the air, 0.1 %, is left out. Sloping walls: use water.
 */
export function mouldVolumeMl(measure: MouldMeasure): Outcome<{ volumeMl: number }> {
  const problems = checkMeasure(measure);
  if (problems.length > 0) return { ok: false, problems };
  const volumeMl = volumeOf(measure);
  return whenSound(checkNumber(volumeMl, '', VOLUME), () => ({ volumeMl }));
}
