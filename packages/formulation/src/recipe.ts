import type { Interval } from './outcome.ts';

/**
 * A recipe as an instructor states it: shares and percentages, no masses. A published version of a
 * recipe never changes; masses appear only when it is scaled to a mould.
 */
export type RecipeInput = {
  /** Shares of the total fat; they sum to 100 within 0.01. */
  fats: FatShare[];
  /** Share of the saponifiable need met by potassium hydroxide: 0 sodium only, 100 potassium only. */
  alkali: { kohSharePercent: number };
  /** The aim: share of the saponifiable need left without alkali (a lye discount). */
  superfatPercent: number;
  /** Lowest acceptable low end of the superfat band; 0 means "no free alkali, and nothing more". */
  superfatFloorPercent: number;
  /** 100 * alkali as weighed / (alkali as weighed + all water); what the scale shows, not pure hydroxide. */
  lyeConcentrationPercent: number;
  /** Share of the plain water that goes in as ice. */
  iceSharePercent: number;
  waterTemperatureC: number;
  iceTemperatureC: number;
  /**
   * Other liquids, each supplying a share of the water by its water content; plain water is the rest.
   * `intoFatsPercent` of a liquid is stirred into the fats and never meets hot lye.
   */
  liquids: { liquidKey: string; shareOfWaterPercent: number; intoFatsPercent?: number }[];
  additives: Additive[];
  acids?: AcidShare[];
  /** The temperature, C, that the solution should stay under; only warned of. */
  peakLimitC?: number;
  /** What a batch loses, percent: shrinkage in the mould, and what stays in the pot; a mould is then still full. */
  allowance?: { shrinkPercent: number; wastePercent: number };
};

/** An acid as weighed, share of the fat; `strengthPercent` is how much of what is weighed is the acid. */
export type AcidShare = { acidKey: string; shareOfFatPercent: number; strengthPercent: Interval };

/** A studio's figures for a fat that is not in the catalogue; worst-case limits, as a supplier states them. */
export type OwnFatFigures = {
  name: string;
  saponificationValue: { low: number; high: number };
  iodineValue?: { low: number; high: number };
  densityGPerMl?: number;
  unsaponifiablePercent?: number;
};

/**
 * `certificateSv`: measured on the lot; its expanded uncertainty (k = 2) replaces the published range.
 * `own`: figures of a fat outside the catalogue, whose key begins with "own:". `late`: held back and
 * stirred in at the end, so that the superfat is of this fat (common practice, no source).
 */
export type FatShare = {
  fatKey: string;
  sharePercent: number;
  own?: OwnFatFigures;
  late?: boolean;
  certificateSv?: { valueMgKohPerG: number; expandedUncertainty: number };
};

/** `limitPercent`: the supplier's highest share of the fat. Density is needed only for the volume. */
export type Additive = {
  name: string;
  shareOfFatPercent: number;
  limitPercent?: number;
  densityGPerMl?: number;
};

/** Assay of the lots in use, mass percent hydroxide. */
export type Purity = { naohPercent: Interval; kohPercent: Interval };

/**
 * What to assume without a certificate of analysis. From memory, no document read: ACS reagent
 * grades ask for at least 97.0 % NaOH and at least 85 % KOH; potassium hydroxide flakes are sold as
 * 90 % because they hold water. Wide on purpose: a certificate narrows the superfat band.
 */
export const PURITY_WITHOUT_CERTIFICATE: Purity = {
  naohPercent: { low: 97, nominal: 98.5, high: 100 },
  kohPercent: { low: 85, nominal: 88.5, high: 92 },
};

/** Default for a new recipe, our choice: half a percent of superfat left in the worst case. */
export const SUPERFAT_FLOOR_DEFAULT_PERCENT = 0.5;

/** Masses and figures that follow from a recipe. Line masses are integer milligrams. */
export type Formula = {
  lines: Line[];
  fatMassMg: number;
  /** NaOH and KOH together, as weighed. */
  alkaliMassMg: number;
  /** All water: plain, ice, and the water in the other liquids. */
  waterMassMg: number;
  iceMassMg: number;
  batchMassMg: number;
  /** Volume of the poured batter by additive volumes; see batch-volume.ts for its error. */
  volumeMl: Interval;
  superfatBandPercent: Interval;
  lyeConcentrationPercent: number;
  /** The same of what is in the lye pot alone; higher when liquid is stirred into the fats. */
  potConcentrationPercent: number;
  peak: PeakTemperature;
  warnings: Warning[];
};

export type LineKind = 'fat' | 'naoh' | 'koh' | 'water' | 'ice' | 'liquid' | 'acid' | 'additive';

/**
 * Keys: 'fat:olive', 'naoh', 'koh', 'water', 'ice', 'liquid:goat_milk', 'liquid:goat_milk:fats' (the part
 * that goes `into` the fats), 'acid:citric_acid', 'additive:0'. A `late` fat goes in last.
 */
export type Line = { key: string; kind: LineKind; name: string; massMg: number; into?: 'fats'; late?: true };

export type Steam = 'practically none' | 'little' | 'likely' | 'boiling likely';

/** Adiabatic and well stirred: an estimate for NaOH, an upper bound as soon as KOH is present. */
export type PeakTemperature = {
  temperatureC: number;
  boilingPointC: number;
  kind: 'estimate' | 'upper bound';
  iceLeftMg: number;
  steam: Steam;
  source: string;
};

export type WarningCode =
  | 'superfat-band-below-floor'
  | 'near-boiling'
  | 'no-ice'
  | 'ice-left'
  | 'liquid-caution'
  | 'high-concentration'
  | 'low-concentration'
  | 'wide-superfat-band'
  | 'purity-without-certificate'
  | 'certificate-outside-range'
  | 'late-fat'
  | 'acid-before-lye'
  | 'over-peak-limit'
  | 'wax';

export type Warning = { code: WarningCode; detail: string };
