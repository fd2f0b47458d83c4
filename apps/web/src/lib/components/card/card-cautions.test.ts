import type { CardStep } from '@ashwater/contracts';
import { expect, test } from 'vitest';
import { cautionsOf } from './card-cautions.ts';

const step = (no: number, caution: string | null): CardStep => ({
  no,
  kind: 'do',
  title: `Step ${no}`,
  instruction: '',
  reason: '',
  caution,
  caustic: caution !== null,
  lineKey: null,
  targetMg: null,
  acceptLowMg: null,
  acceptHighMg: null,
  lowC: null,
  highC: null,
});

test('each caution gets one letter, at the first step it stands at', () => {
  const steps = [step(1, null), step(2, 'Burns.'), step(3, 'Hot.'), step(4, 'Burns.')];
  expect(cautionsOf(steps)).toEqual([
    { letter: 'A', text: 'Burns.', firstNo: 2 },
    { letter: 'B', text: 'Hot.', firstNo: 3 },
  ]);
  expect(cautionsOf([step(1, null)])).toEqual([]);
});
