import type { StationOut } from '@ashwater/contracts';

/** What can be typed about a bench, by the names of the API's fields. */
export const BENCH_PARTS = [
  'scaleStep',
  'scaleCapacity',
  'mouldName',
  'mouldVolumeMl',
  'verificationInterval',
  'accuracyClass',
  'lyeScaleStep',
  'lyeScaleCapacity',
  'potMaterial',
  'potVolumeMl',
] as const;
export type BenchTyped = Record<(typeof BENCH_PARTS)[number], string>;
/** Those that may stay blank: nobody has looked yet. */
export const OPTIONAL_PARTS = BENCH_PARTS.slice(4);

type SetUp = Omit<StationOut, 'id' | 'name'>;
const grams = (massMg: number | null): string => (massMg === null ? '' : String(massMg / 1000));

/** A bench as it would be typed, to start from. What is not known is blank. */
export const benchTyped = (bench: SetUp): BenchTyped => ({
  scaleStep: grams(bench.scaleStepMg),
  scaleCapacity: grams(bench.scaleCapacityMg),
  mouldName: bench.mouldName,
  mouldVolumeMl: String(bench.mouldVolumeMl),
  verificationInterval: grams(bench.verificationIntervalMg),
  accuracyClass: bench.accuracyClass ?? '',
  lyeScaleStep: grams(bench.lyeScaleStepMg),
  lyeScaleCapacity: grams(bench.lyeScaleCapacityMg),
  potMaterial: bench.potMaterial ?? '',
  potVolumeMl: bench.potVolumeMl === null ? '' : String(bench.potVolumeMl),
});
export const BLANK_BENCH: BenchTyped = {
  scaleStep: '',
  scaleCapacity: '',
  mouldName: '',
  mouldVolumeMl: '',
  verificationInterval: '',
  accuracyClass: '',
  lyeScaleStep: '',
  lyeScaleCapacity: '',
  potMaterial: '',
  potVolumeMl: '',
};

/** The parts as they come out of a form, one asked for at a time. */
export const benchFrom = (part: (name: (typeof BENCH_PARTS)[number]) => string): BenchTyped => ({
  scaleStep: part('scaleStep'),
  scaleCapacity: part('scaleCapacity'),
  mouldName: part('mouldName'),
  mouldVolumeMl: part('mouldVolumeMl'),
  verificationInterval: part('verificationInterval'),
  accuracyClass: part('accuracyClass'),
  lyeScaleStep: part('lyeScaleStep'),
  lyeScaleCapacity: part('lyeScaleCapacity'),
  potMaterial: part('potMaterial'),
  potVolumeMl: part('potVolumeMl'),
});

type Words = Pick<BenchTyped, 'scaleStep' | 'scaleCapacity' | 'mouldName' | 'mouldVolumeMl' | 'lyeScaleStep' | 'potVolumeMl'>;
/** One line that tells two benches apart. */
export function benchWords(bench: Words): string {
  const lye = bench.lyeScaleStep ? `, lye on a scale of ${bench.lyeScaleStep} g` : '';
  const pot = bench.potVolumeMl ? `; container ${bench.potVolumeMl} mL` : '';
  return `Scale step ${bench.scaleStep} g, up to ${bench.scaleCapacity} g${lye}; ${bench.mouldName}, ${bench.mouldVolumeMl} mL${pot}.`;
}
