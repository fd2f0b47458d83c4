/** Round tick values from 0 to at least `most`, about four of them. */
export function ticksUpTo(most: number): number[] {
  if (most <= 0) return [0];
  const rough = most / 4;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((n) => n * power).find((each) => each >= rough)!;
  return Array.from({ length: Math.ceil(most / step - 1e-9) + 1 }, (_, i) => i * step);
}
