import type { AcidShare } from './acid-profile.ts';

/** For tests only: compositions printed in the literature, percent by mass of the fatty acids. */

const profile = (text: string): AcidShare[] =>
  text.split(',').map((entry) => {
    const [acid = '', percent = ''] = entry.trim().split(' ');
    return { acid, percent: Number(percent) };
  });

/** Merck Index, "Olive Oil" (a single typical composition). */
export const OLIVE_MERCK = profile('18:1 83.5, 16:0 9.4, 18:2 4, 18:0 2, 20:0 0.9');

/** Riceland rice bran oil, as printed on ricebranoil.info. */
export const RICE_BRAN = profile('14:0 0.2, 16:0 15, 18:0 1.9, 18:1 42.5, 18:2 39.1, 18:3 1.1, 20:0 0.5, 22:0 0.2');

/** Molecules 24 (2019) 4235, Table 1 (0.10 % of odd and very long acids left out; elaidic counted as 18:1). */
export const BABASSU = profile(
  '4:0 0.05, 8:0 6.21, 10:0 5.78, 12:0 47.4, 14:0 15.64, 16:0 8.01, 16:1 0.02, 17:0 0.02, 18:0 3.15, 18:1 11.37, 18:2 1.85, 18:3 0.25, 20:0 0.05, 20:1 0.05, 22:0 0.01, 24:0 0.04',
);
