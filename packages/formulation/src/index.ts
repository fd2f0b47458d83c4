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
export { unaccountedMass } from './material-balance.ts';
export type { AlkaliKind, SolutionHazard } from './hazard.ts';
export { hazardOfSolution } from './hazard.ts';
/* Fats and fatty acids: composition, certificates, saponification and iodine values. */
export type { AcidClass, AcidRange, FattyAcid, FattyAcidRanges } from './fatty-acids.ts';
export { FATTY_ACIDS, fattyAcidByCode, fattyAcidRanges } from './fatty-acids.ts';
export type { AcidShare } from './acid-profile.ts';
export type { Bounds } from './profile-bounds.ts';
export type { ProfileSaponification } from './saponification-from-acids.ts';
export { saponificationRangeFromAcids, saponificationValueFromAcids } from './saponification-from-acids.ts';
export { saponificationInBatch } from './saponification-in-batch.ts';
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
export { checkedLimitMg } from './check-weighing.ts';
export type { ScaleByKind } from './weigh-plan.ts';
export type { MadeReading } from './weighing-state.ts';
export type { NextLine } from './next-words.ts';
export type { Act, NextAct, WeighedSoFar } from './recompute.ts';
export { recompute } from './recompute.ts';
