import { formulate, PURITY_WITHOUT_CERTIFICATE } from '@ashwater/formulation';
import type { FormulationProblem, RecipeInput } from '@ashwater/formulation';
import type { RecipeDraft } from './recipes.ts';

type Read = (pointer: string, text: string, field: { name: string; min: number; max: number }) => number;
/** The thinnest lye there is: how much alkali a fat needs does not depend on its water, and the pot of a split liquid surely dissolves it. */
const THINNEST_PERCENT = 15;

/** The concentration a figure comes to, and what is wrong with it, said at the figure's own field. */
export type ReadWater = { percent: number; problems: FormulationProblem[] };
type Rest = Omit<RecipeInput, 'lyeConcentrationPercent'>;

/** A figure can be read and still mean a lye that does not dissolve, or is hardly one. */
function judged(percent: number, rest: Rest): ReadWater {
  const formula = formulate({ ...rest, lyeConcentrationPercent: percent }, PURITY_WITHOUT_CERTIFICATE);
  const about = formula.ok ? [] : formula.problems.filter((each) => each.pointer === '/lyeConcentrationPercent');
  const said = `With this figure the lye concentration is ${percent.toFixed(1)} %`;
  const problems = about.map((each) => ({
    ...each,
    pointer: '/waterFigure',
    detail:
      each.code === 'concentration-past-solubility'
        ? `${said}, past what dissolves: give more water.`
        : `${said}; it must be from 15 to 100 %: give less water.`,
  }));
  return { percent, problems };
}

/**
 * The lye concentration of a draft, whichever way it gives its water; read at once, worked out once everything else is sound.
 * With alkali A as weighed, water W and fat F: from r = W / A it is 100 / (1 + r). From a share of the fat s = 100 W / F it takes the
 * alkali for the fat, at the purity of caustic without a certificate: it is fixed with the recipe, so that a purer lot does not change it.
 */
export function lyeConcentrationOf(draft: RecipeDraft, rest: Rest, read: Read): () => ReadWater {
  const { waterBy = 'lye concentration', waterFigure = '' } = draft;
  if (waterBy === 'lye concentration') {
    const percent = read('/lyeConcentrationPercent', draft.lyeConcentrationPercent, { name: 'Lye concentration', min: 1, max: 99 });
    return () => ({ percent, problems: [] });
  }
  if (waterBy === 'water per alkali') {
    const ratio = read('/waterFigure', waterFigure, { name: 'The water for each gram of alkali', min: 0.5, max: 10 });
    return () => judged(100 / (1 + ratio), rest);
  }
  const shareOfFat = read('/waterFigure', waterFigure, { name: 'The water as share of the fat', min: 1, max: 200 });
  return () => {
    const formula = formulate({ ...rest, lyeConcentrationPercent: THINNEST_PERCENT }, PURITY_WITHOUT_CERTIFICATE);
    if (!formula.ok) return { percent: THINNEST_PERCENT, problems: [] }; // whoever formulates the recipe is told why
    const { alkaliMassMg, fatMassMg } = formula.value;
    return judged((100 * alkaliMassMg) / (alkaliMassMg + (shareOfFat / 100) * fatMassMg), rest);
  };
}
