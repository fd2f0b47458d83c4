import type { ReceiveLot } from '@ashwater/contracts';
import { expect, test } from 'vitest';
import { newId } from '../../ids.ts';
import { DomainProblem } from '../../problems/domain-problem.ts';
import { readLot } from './lot-input.ts';

const form: ReceiveLot = {
  id: newId(),
  substance: 'NaOH',
  supplier: 'Harbour Chemicals',
  lotNumber: 'L-1',
  purityPercent: '99',
  purityUncertaintyPercent: '0.5',
  sdsLink: 'https://example.org/sds',
  sdsRevisedOn: null,
  scaleStep: '1',
  containers: [{ id: newId(), label: 'A-1', gross: '1250', tare: '250' }],
};
function pointersOf(change: Partial<ReceiveLot>): string[] {
  try {
    readLot({ ...form, ...change });
  } catch (error) {
    if (error instanceof DomainProblem) return error.errors.map(({ pointer }) => pointer);
    throw error;
  }
  return [];
}

test('masses are read as grams unless a unit is typed', () => {
  const read = readLot({ ...form, scaleStep: '0.5 g', containers: [{ ...form.containers[0]!, gross: '1.25 kg' }] });
  expect(read).toMatchObject({ purityPercent: 99, scaleStepMg: 500, containers: [{ grossMg: 1_250_000, tareMg: 250_000 }] });
});

test.each<[string, Partial<ReceiveLot>, string[]]>([
  ['blank purity', { purityPercent: '' }, ['/purityPercent']],
  ['purity 0', { purityPercent: '0' }, ['/purityPercent']],
  ['purity above 100', { purityPercent: '100.1' }, ['/purityPercent']],
  ['blank uncertainty', { purityUncertaintyPercent: ' ' }, ['/purityUncertaintyPercent']],
  ['uncertainty as large as the purity', { purityUncertaintyPercent: '99' }, ['/purityUncertaintyPercent']],
  ['scale step 0', { scaleStep: '0' }, ['/scaleStep']],
  ['scale step above 1 kg', { scaleStep: '2 kg' }, ['/scaleStep']],
  ['gross below tare', { containers: [{ ...form.containers[0]!, gross: '249' }] }, ['/containers/0/gross']],
  ['gross equal to tare', { containers: [{ ...form.containers[0]!, gross: '250' }] }, ['/containers/0/gross']],
  ['blank masses', { containers: [{ ...form.containers[0]!, gross: '', tare: '' }] }, ['/containers/0/gross', '/containers/0/tare']],
  ['the same label twice', { containers: [form.containers[0]!, { ...form.containers[0]!, id: newId() }] }, ['/containers/1/label']],
  ['a carbonate share above a half', { carbonatePercent: '50.5' }, ['/carbonatePercent']],
  ['a water share that is no number', { waterPercent: 'dry' }, ['/waterPercent']],
  ['carbonate that leaves no hydroxide', { assayIs: 'total alkali', purityPercent: '60', carbonatePercent: '45' }, ['/carbonatePercent']],
  ['several faults at once', { purityPercent: 'x', scaleStep: '' }, ['/purityPercent', '/scaleStep']],
])('refuses %s at its field', (_name, change, pointers) => {
  expect(pointersOf(change)).toEqual(pointers);
});

test('purity 100 stands', () => {
  expect(pointersOf({ purityPercent: '100', purityUncertaintyPercent: '0' })).toEqual([]);
});

test('a blank share is unknown and not zero; without a word on it the figure is hydroxide', () => {
  expect(readLot({ ...form, carbonatePercent: ' ', waterPercent: '' })).toMatchObject({ assayIs: 'hydroxide', carbonatePercent: null, waterPercent: null });
  expect(readLot({ ...form, assayIs: 'total alkali', carbonatePercent: '0.8', waterPercent: '0' })).toMatchObject({
    assayIs: 'total alkali',
    carbonatePercent: 0.8,
    waterPercent: 0,
  });
});
