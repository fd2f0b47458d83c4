import { expect, test } from 'vitest';
import { readAmendForm } from './amend-form.ts';

const TYPED = {
  reason: 'A larger mould',
  naohLotId: '',
  'bench/0/id': 'cs0',
  'bench/0/cardId': 'card0',
  'bench/0/mouldVolumeMl': '1100',
  'bench/1/id': 'cs1',
  'bench/1/cardId': 'card1',
  'bench/1/chosen': 'yes',
  'bench/1/mouldVolumeMl': '1500',
};

test('only the ticked stations go along, each with the card it replaces; potassium hydroxide stays as it is where it was not asked', () => {
  const { body, benches } = readAmendForm('id', TYPED);
  expect(benches).toEqual([1]);
  expect(body.stations).toMatchObject([{ classStationId: 'cs1', cardId: 'card1', mouldVolumeMl: '1500', recipeVersionId: null }]);
  expect(body).toMatchObject({ naohLotId: null, confirm: false, reason: 'A larger mould' });
  expect('kohLotId' in body).toBe(false);
  expect(readAmendForm('id', { ...TYPED, kohLotId: 'k', confirm: 'yes' }).body).toMatchObject({ kohLotId: 'k', confirm: true });
});
