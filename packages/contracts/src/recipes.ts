import { z } from 'zod';
import { Created, Entered, Id, Instant, Line, Name } from './basics.ts';

const Range = z.object({ low: z.number(), high: z.number() });
/** A fat of the studio's own, copied into the recipe so that a published version stays as it was. The service fills it in from its list. */
export const OwnFat = z.object({
  id: Id,
  name: z.string(),
  botanicalName: z.string(),
  saponificationValue: Range.describe('mg KOH per g'),
  iodineValue: Range.nullable().describe('g iodine per 100 g'),
  densityGPerMl: z.number().nullable(),
  unsaponifiablePercent: z.number().nullable(),
  source: z.string().describe("where the figures are from: a supplier's certificate or data sheet, with its date"),
});
export type OwnFat = z.infer<typeof OwnFat>;

/** What `waterFigure` of a draft means; without it the lye concentration alone is given. */
export const WaterBy = z.enum(['lye concentration', 'water per alkali', 'share of fat']);

/** A recipe as typed: every number is the text a person entered; `readRecipe` turns it into the formulation package's input. */
export const RecipeDraft = z.object({
  title: Name,
  fats: z
    .array(
      z.object({
        fatKey: z.string().max(60),
        sharePercent: Entered,
        certificateSv: Entered.optional().describe("saponification value on the supplier's certificate, mg KOH per g; it replaces the published range"),
        certificateUncertainty: Entered.optional().describe('its expanded uncertainty (k = 2), mg KOH per g'),
        certificateOn: Entered.optional().describe("the certificate's date, YYYY-MM-DD"),
        late: z.boolean().optional().describe('held back and stirred in at the end, so that the superfat is of this fat'),
        own: OwnFat.optional().describe('with a fatKey of "own:<id>": what the studio wrote of it'),
      }),
    )
    .max(20),
  kohSharePercent: Entered,
  superfatPercent: Entered,
  superfatFloorPercent: Entered,
  lyeConcentrationPercent: Entered,
  waterBy: WaterBy.optional(),
  waterFigure: Entered.optional().describe('with waterBy: grams of water per gram of alkali, or percent of the fat'),
  peakLimitC: Entered.optional().describe('the temperature the solution should stay under, C; blank for none'),
  shrinkPercent: Entered.optional().describe('how much the soap shrinks in its mould, percent; blank for none'),
  wastePercent: Entered.optional().describe('how much of the batter stays in the pot, percent; blank for none'),
  iceSharePercent: Entered,
  waterTemperatureC: Entered,
  iceTemperatureC: Entered,
  liquids: z.array(z.object({ liquidKey: z.string().max(60), shareOfWaterPercent: Entered, intoFatsPercent: Entered.optional() })).max(5),
  acids: z
    .array(z.object({ acidKey: z.string().max(60), shareOfFatPercent: Entered, strengthPercent: Entered, strengthUncertainty: Entered }))
    .max(5)
    .optional(),
  additives: z.array(z.object({ name: Line, shareOfFatPercent: Entered, limitPercent: Entered })).max(15),
});
export type RecipeDraft = z.infer<typeof RecipeDraft>;

export const CreateRecipe = z.object({ id: Id, draft: RecipeDraft });
export const SaveRecipe = z.object({ revision: z.int(), draft: RecipeDraft });
export const PublishRecipe = z.object({ id: Id, revision: z.int() });

export const VersionOut = z.object({ id: Id, number: z.int(), title: z.string(), publishedAt: Instant, publishedBy: z.string() });
export const RecipeSummary = z.object({ id: Id, title: z.string(), updatedAt: Instant, versions: z.array(VersionOut) });
export const Recipes = z.object({ recipes: z.array(RecipeSummary) });
export type Recipes = z.infer<typeof Recipes>;
export const RecipeOut = RecipeSummary.extend({ revision: z.int(), draft: RecipeDraft });
export type RecipeOut = z.infer<typeof RecipeOut>;
export const RecipeVersionOut = VersionOut.extend({ recipeId: Id, draft: RecipeDraft });
export const RecipeCreated = Created;

/** What a blank page of the editor starts from; all values are ours, chosen on the safe side. */
export function blankRecipe(): RecipeDraft {
  return {
    title: '',
    fats: [{ fatKey: 'olive', sharePercent: '' }],
    kohSharePercent: '0',
    superfatPercent: '6',
    superfatFloorPercent: '0.5',
    lyeConcentrationPercent: '30',
    iceSharePercent: '50',
    waterTemperatureC: '20',
    iceTemperatureC: '-10',
    liquids: [],
    additives: [],
  };
}
