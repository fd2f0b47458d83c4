import { expect, test } from 'vitest';
import { shownFaults } from './shown-faults.ts';

const blank = { name: 'draft/title', detail: 'Give the recipe a name.', missing: true };
const wrong = { name: 'draft/superfatPercent', detail: 'Too much.', missing: false };
const typed = { 'draft/title': '', 'draft/superfatPercent': '60' };
const refused = { id: 'x', values: typed, errors: { 'draft/superfatPercent': 'Refused.', 'draft/fats': 'Sum.' }, problem: { code: '', title: '', detail: '' } };

test('a page just opened says nothing about blank fields, but at once what was typed wrong', () => {
  expect(shownFaults([blank, wrong], typed, { refused: null, left: [], quiet: true })).toEqual({ 'draft/superfatPercent': 'Too much.' });
});

test('a blank field speaks once it was left', () => {
  expect(shownFaults([blank], typed, { refused: null, left: ['draft/title'], quiet: true })).toEqual({ 'draft/title': 'Give the recipe a name.' });
  // On a recipe that exists already it speaks at once.
  expect(shownFaults([blank], typed, { refused: null, left: [], quiet: false })).toEqual({ 'draft/title': 'Give the recipe a name.' });
});

test('what the API refused stays until the field holds something else', () => {
  expect(shownFaults([], typed, { refused, left: [], quiet: false })).toEqual({ 'draft/superfatPercent': 'Refused.' });
  expect(shownFaults([], { ...typed, 'draft/superfatPercent': '6' }, { refused, left: [], quiet: false })).toEqual({});
});
