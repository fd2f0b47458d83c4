import { ACCURACY_CLASSES, CONTAINER_MATERIALS } from '@ashwater/formulation';
import type { AccuracyClass } from '@ashwater/formulation';

type Option = { value: string; label: string };

const CLASS_WORDS: Record<AccuracyClass, string> = {
  I: 'I, special',
  II: 'II, high',
  III: 'III, medium (most shop scales)',
  IIII: 'IIII, ordinary',
  'HB 44 III': 'III of NIST Handbook 44 (United States)',
};
const RATING_WORDS = { hot: 'bears hot lye', 'with care': 'with care', 'cold only': 'cold lye only', never: 'never for lye' };

/** What the selects of a bench offer; both may stay unknown. */
export const benchOptions = (): { classes: Option[]; materials: Option[] } => ({
  classes: [{ value: '', label: 'Not on the plate, or not looked' }, ...ACCURACY_CLASSES.map((value) => ({ value, label: CLASS_WORDS[value] }))],
  materials: [
    { value: '', label: 'Not known' },
    ...CONTAINER_MATERIALS.map(({ key, name, rating, resinCode }) => ({
      value: key,
      label: `${name}${resinCode === null ? '' : `, triangle ${resinCode}`}: ${RATING_WORDS[rating]}`,
    })),
  ],
});
