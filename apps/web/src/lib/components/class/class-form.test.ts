import { describe, expect, test } from 'vitest';
import { benchChoice, fieldOfStation, readClassForm } from './class-form.ts';

const NOT_KNOWN = {
  verificationIntervalMg: null,
  accuracyClass: null,
  lyeScaleStepMg: null,
  lyeScaleCapacityMg: null,
  potMaterial: null,
  potVolumeMl: null,
};
const typed = {
  title: 'Evening class',
  startsAt: '2026-07-05T18:30',
  room: 'Back room',
  recipeVersionId: 'v1',
  naohLotId: '',
  kohLotId: 'lot-k',
  sparePercent: '15 %',
  'bench/0/id': 'c0',
  'bench/0/stationId': 's0',
  'bench/2/id': 'c2',
  'bench/2/stationId': 's2',
  'bench/2/chosen': 'yes',
  'bench/2/scaleStep': '0.1',
  'bench/2/scaleCapacity': '',
  'bench/2/mouldName': 'Loaf',
  'bench/2/mouldVolumeMl': '1200',
  'bench/10/id': 'c10',
  'bench/10/stationId': 's10',
  'bench/10/chosen': 'yes',
  'bench/10/recipeVersionId': 'v2',
};

describe('the form of a class', () => {
  test('holds only the stations chosen, in order, and the start in UTC', () => {
    const read = readClassForm('id', typed, 'Europe/London');
    expect(read).toMatchObject({ ok: true, benches: [2, 10] });
    if (!read.ok) return expect.fail('refused');
    // London is an hour ahead of UTC in July.
    expect(read.body.startsAt).toBe('2026-07-05T17:30:00.000Z');
    expect(read.body.naohLotId).toBeNull();
    expect(read.body.kohLotId).toBe('lot-k');
    expect(read.body.sparePercent).toBe(15);
    expect(read.body.stations.map((station) => station.recipeVersionId)).toEqual([null, 'v2']);
    expect(read.body.stations.map((station) => station.stationId)).toEqual(['s2', 's10']);
    // A blank field travels as blank, so that the API can refuse it.
    expect(read.body.stations[0]?.scaleCapacity).toBe('');
  });

  test('refuses a time no clock shows, a blank one and a missing version', () => {
    const refused = (change: Record<string, string>) => readClassForm('id', { ...typed, ...change }, 'Europe/London');
    expect(refused({ startsAt: '2026-03-29T01:30' })).toMatchObject({
      ok: false,
      fault: { name: 'startsAt', detail: expect.stringContaining('clocks go forward') },
    });
    expect(refused({ startsAt: '' })).toMatchObject({ ok: false, fault: { name: 'startsAt' } });
    for (const spare of ['', '101', '2.5', 'x']) expect(refused({ sparePercent: spare })).toMatchObject({ ok: false, fault: { name: 'sparePercent' } });
    expect(refused({ recipeVersionId: '' })).toMatchObject({ ok: false, fault: { name: 'recipeVersionId' } });
  });

  test('a fault of the second station chosen lands at its row of the form', () => {
    expect(fieldOfStation('/stations/1/scaleStep', [2, 10])).toBe('bench/10/scaleStep');
    expect(fieldOfStation('/stations/0/stationId', [2, 10])).toBe('bench/2/chosen');
    expect(fieldOfStation('/stations', [])).toBe('stations');
    expect(fieldOfStation('/room', [2])).toBe('room');
  });

  test('a station is offered as it was set up, in grams', () => {
    const bench = { name: 'North', scaleStepMg: 100, scaleCapacityMg: 2_000_000, mouldName: 'Loaf', mouldVolumeMl: 1200, ...NOT_KNOWN };
    expect(benchChoice(bench, { id: 'a', stationId: 'b' }, true)).toMatchObject({
      scaleStep: '0.1',
      scaleCapacity: '2000',
      mouldVolumeMl: '1200',
      chosen: true,
    });
  });
});
