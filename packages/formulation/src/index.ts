/**
 * Formulation: from a recipe to exact amounts, worst-case superfat and peak temperature.
 * Pure functions, no I/O, no clock, no dependency. Start reading at formulate.ts.
 */
export type { FormulationCode, FormulationProblem, Interval, Outcome } from './outcome.ts';
export type { Additive, FatShare, Formula, Line, LineKind, PeakTemperature, Purity, RecipeInput, Steam, Warning, WarningCode } from './recipe.ts';
export { PURITY_WITHOUT_CERTIFICATE, SUPERFAT_FLOOR_DEFAULT_PERCENT } from './recipe.ts';
export type { Fat } from './fats.ts';
export { FATS, fatByKey } from './fats.ts';
export type { Liquid } from './liquids.ts';
export { LIQUIDS, liquidByKey } from './liquids.ts';
export { formulate } from './formulate.ts';
export { potOf } from './figures.ts';
export type { Mould } from './scale-to-mould.ts';
export { scaleToMould } from './scale-to-mould.ts';
export type { Scale } from './scale-error.ts';
export { errorLimitMg } from './scale-error.ts';
export type { PlanLine } from './weigh-line.ts';
export type { WeighPlan } from './weigh-plan.ts';
export { planWeighing } from './weigh-plan.ts';
export type { ReadingLine, Verdict } from './reading.ts';
export { judgeReading, judgeTemperature } from './reading.ts';
export type { DecimalRule, MassUnit } from './quantity.ts';
export { formatMass, parseDecimal, parseMass } from './quantity.ts';
export type { Balance, BalanceInput, Weighing } from './material-balance.ts';
export { ACTION_RATIO, unaccountedMass, WARNING_RATIO } from './material-balance.ts';
export type { AlkaliKind, SolutionHazard } from './hazard.ts';
export { hazardOfSolution } from './hazard.ts';
/* Fats and fatty acids: composition, certificates, saponification and iodine values. */
export type { AcidClass, AcidRange, FattyAcid, FattyAcidRanges } from './fatty-acids.ts';
export { FATTY_ACIDS, fattyAcidByCode, fattyAcidRanges } from './fatty-acids.ts';
export type { AcidShare } from './acid-profile.ts';
export type { Bounds } from './profile-bounds.ts';
export type { ProfileSaponification } from './saponification-from-acids.ts';
export { saponificationRangeFromAcids, saponificationValueFromAcids } from './saponification-from-acids.ts';
export { iodineRangeFromAcids, iodineValueFromAcids } from './iodine-value.ts';
export type { Certificate, CertificateJudgement, CertificateQuestion } from './certificate.ts';
export { judgeCertificate } from './certificate.ts';
export type { BlendAcids, BlendShare } from './acid-shares.ts';
export { acidSharesOfBlend } from './acid-shares.ts';
export type { Titration } from './titration.ts';
export { saponificationValueByTitration } from './titration.ts';
// Weighing: scale accuracy, scales by kind of line, and what to do after a reading went astray.
export type { AccuracyClass } from './scale-class.ts';
export { ACCURACY_CLASSES, inServiceLimitMg, verificationLimitMg } from './scale-class.ts';
export type { CheckWeighing } from './check-weighing.ts';
export type { ScaleByKind } from './weigh-plan.ts';
export type { MadeReading } from './weighing-state.ts';
export type { NextLine } from './next-words.ts';
export type { Act, NextAct, WeighedSoFar } from './recompute.ts';
export { recompute } from './recompute.ts';

// Alkali: what a certificate leaves of hydroxide, what acids take, superfat as fat added late.
export type { Carbonation, Certificate as AlkaliCertificate } from './alkali-content.ts';
export { carbonation, hydroxideContent } from './alkali-content.ts';
export type { AcidPortion, AlkaliTaken, RecipeAcid } from './acids.ts';
export { acidByKey, alkaliTakenByAcids, RECIPE_ACIDS } from './acids.ts';
export type { LateFat, LateFatFigures } from './late-fat.ts';
export { discountOfLateFat, lateFatFor } from './late-fat.ts';

// Liquids and heat: conversions, what dissolves, the path of the temperature, ice, container, cooling.
export type { WaterFigures, WaterMeasure } from './liquid-plan.ts';
export { waterFigures, waterOf } from './liquid-plan.ts';
export type { SplitLiquid, SplitPart } from './split-liquid.ts';
export { splitLiquid } from './split-liquid.ts';
export type { Dissolving } from './dissolving.ts';
export { dissolvesInPot } from './dissolving.ts';
export type { PathPoint, PathWarning, PeakPath } from './peak-path.ts';
export { peakPath } from './peak-path.ts';
export type { IceForLimit, OpenPot } from './ice-for-limit.ts';
export { iceForLimit } from './ice-for-limit.ts';
export type { CausticRating, ContainerMaterial, ContainerVerdict } from './container-limits.ts';
export { CONTAINER_MATERIALS, containerBears } from './container-limits.ts';
export type { FillLevel } from './fill-level.ts';
export { fillLevel } from './fill-level.ts';
export type { Cooling, Surroundings } from './cooling-time.ts';
export { coolingTime } from './cooling-time.ts';

// The prepared solution and the bar: density, cold storage, label, rinse film, what is left in a bar.
export type { LyeSolution } from './solution.ts';
export { lyeSolution } from './solution.ts';
export { coldStorageWarning } from './crystallisation.ts';
export type { Precaution, SolutionLabel, UsHazard } from './label-statements.ts';
export { labelOfSolution } from './label-statements.ts';
export type { Neutralisation, Remainder } from './neutralisation.ts';
export { vinegarForRinseFilm, whyNotVinegarOnSpill } from './neutralisation.ts';
export type { Bar, BarInput } from './bar.ts';
export { barOf } from './bar.ts';

// Uncertainty after the GUM: the likely range, and what contributes most.
export type { Combined, Contribution, Doubt, DoubtfulInput } from './combine-uncertainty.ts';
export type { NamedBandInput, SuperfatUncertainty } from './uncertainty.ts';

// Everything to know before a solution is made, gathered from the files above.
export type { Circumstances, Preparation, Said } from './preparation.ts';
export {
  alkaliKindOf,
  AROUND_DEFAULT_C,
  COLD_STORAGE_C,
  PEAK_LIMIT_DEFAULT_C,
  preparationOf,
  preparationOfPlan,
  RINSE_FILM_MG,
  WORKING_DEFAULT_C,
} from './preparation.ts';

// The mould and the class: inside volume, what to make so that it is still full, totals over all stations.
export type { MouldMeasure } from './mould-volume.ts';
export { mouldVolumeMl } from './mould-volume.ts';
export type { ClassTotal } from './class-totals.ts';
export { classTotals } from './class-totals.ts';
