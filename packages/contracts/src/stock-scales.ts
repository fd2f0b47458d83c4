import { z } from 'zod';
import { Entered, Id, Instant, MassMg, Name } from './basics.ts';

/** On what something was weighed: one of the cabinet's scales by name, or only the step that another scale shows. */
export const WeighedOn = z.object({ scaleId: Id.nullable().optional(), scaleStep: Entered.optional() });
export type WeighedOn = z.infer<typeof WeighedOn>;

/** Accuracy classes of OIML R 76-1. */
export const CabinetScaleClass = z.enum(['I', 'II', 'III', 'IIII']);
export const ScaleIn = z.object({
  id: Id,
  name: Name,
  step: Entered.describe('the smallest change it shows, grams unless a unit is typed'),
  capacity: Entered,
  verificationInterval: Entered.optional().describe('e on the plate, where it is not the step; may stay blank'),
  accuracyClass: z.union([CabinetScaleClass, z.literal('')]).optional(),
});
export type ScaleIn = z.infer<typeof ScaleIn>;
/** What a scale showed with a known mass on it. */
export const ScaleCheckIn = z.object({
  id: Id,
  known: Entered,
  knownLimit: Entered.describe('how wrong the known mass itself can be; 0 when it is far better than the scale'),
  shown: Entered,
});
export type ScaleCheckIn = z.infer<typeof ScaleCheckIn>;
export const ScaleCheckOut = z.object({
  id: Id,
  knownMg: MassMg,
  knownLimitMg: MassMg,
  shownMg: MassMg,
  at: Instant,
  byName: z.string(),
  differenceMg: MassMg,
  limitMg: z.number(),
  past: z.boolean(),
  words: z.string(),
});
export type ScaleCheckOut = z.infer<typeof ScaleCheckOut>;
export const CabinetScaleOut = z.object({
  id: Id,
  name: z.string(),
  stepMg: MassMg,
  capacityMg: MassMg,
  verificationIntervalMg: MassMg.nullable(),
  accuracyClass: CabinetScaleClass.nullable(),
  addedAt: Instant,
  retiredAt: Instant.nullable(),
  past: z.boolean().describe('a check that still counts found it past its limit'),
  checked: z.string().describe('how far it is trusted, in words'),
  checks: z.array(ScaleCheckOut).describe('newest first, at most twenty'),
});
export type CabinetScaleOut = z.infer<typeof CabinetScaleOut>;
export const CabinetScales = z.object({ scales: z.array(CabinetScaleOut).describe('those in use first') });
