import { describe, expect, test } from 'vitest';
import { applyEdits, Step, type PairingDocuments, type Route } from '../../../src/model/index.ts';
import { caseText, readCase } from '../../../src/workbench/parts/route-editor/case-text.ts';
import { choicesOfEnds, matching, pinsOf } from '../../../src/workbench/parts/route-editor/choices.ts';
import {
  changedRoute,
  deleteEdits,
  duplicateEdits,
  routeEdits,
  stepsMoved,
  stepWith,
} from '../../../src/workbench/parts/route-editor/edits.ts';
import {
  readExact,
  readMs,
  readState,
  readUnit,
  readWhole,
  routeFault,
} from '../../../src/workbench/parts/route-editor/entry.ts';
import { STEP_FORMS, STEP_KINDS } from '../../../src/workbench/parts/route-editor/step-fields.ts';
import { conditionWith } from '../../../src/workbench/parts/route-editor/WhenFields.tsx';
import { samplePairing } from '../loom/sample.ts';

const pairing = samplePairing();
const documents: PairingDocuments = {
  map: pairing.map,
  host: pairing.host.platform,
  donor: pairing.donor.platform,
};
const speed = pairing.routes.get('vehicle-speed')!;

/** The step kinds and the keys of each, from the schema itself. */
const SCHEMAS = new Map(
  Step.options.map((option) => [
    [...option.shape.do.values][0]!,
    new Map(Object.entries(option.shape).filter(([key]) => key !== 'do')),
  ]),
);

describe('the table of step fields', () => {
  test('has every step kind of the schema and no other', () => {
    expect([...STEP_KINDS].sort()).toEqual([...SCHEMAS.keys()].sort());
    expect(STEP_KINDS).toHaveLength(22);
  });

  test.each([...SCHEMAS])('%s has exactly the fields of the schema, optional where it says so', (kind, keys) => {
    const { fields } = STEP_FORMS[kind];
    expect(fields.map(({ key }) => key).sort()).toEqual([...keys.keys()].sort());
    for (const { key, optional } of fields) expect(keys.get(key)!.safeParse(undefined).success).toBe(optional);
  });

  test.each(STEP_KINDS)('%s starts as a step that the schema takes, whatever surrounds it', (kind) => {
    const surroundings = [
      { unit: '', targetUnit: '', states: [], targetStates: [] },
      { unit: 'km/h', targetUnit: '[mi_i]/h', states: [], targetStates: [] },
      { unit: '', targetUnit: '', states: ['off', 'on', 'fault'], targetStates: ['no', 'yes'] },
    ];
    for (const around of surroundings) {
      const step = STEP_FORMS[kind].first(around);
      expect(Step.safeParse(step).success, JSON.stringify(step)).toBe(true);
      expect(step.do).toBe(kind);
    }
  });

  test.each(STEP_KINDS)('%s stays valid when its optional fields are emptied', (kind) => {
    let step = STEP_FORMS[kind].first({ unit: 'V', targetUnit: 'V', states: ['a', 'b'], targetStates: ['c', 'd'] });
    for (const { key, optional } of STEP_FORMS[kind].fields) if (optional) step = stepWith(step, key, undefined);
    expect(Step.safeParse(step).success).toBe(true);
  });
});

describe('what is typed', () => {
  test('numbers stay exact', () => {
    expect(readExact('0,1')).toEqual({ ok: true, value: 0.1 });
    expect(readExact('1/3')).toEqual({ ok: true, value: '1/3' });
    expect(readExact('18446744073709551615')).toEqual({ ok: true, value: '18446744073709551615' });
    expect(readExact('1e')).toMatchObject({ ok: false });
    expect(readExact('')).toMatchObject({ ok: false });
  });

  test('times are above zero where they must be', () => {
    expect(readMs('100', 'above-zero')).toEqual({ ok: true, value: 100 });
    expect(readMs('0', 'above-zero')).toMatchObject({ ok: false });
    expect(readMs('0', 'zero')).toEqual({ ok: true, value: 0 });
    expect(readWhole('1001', 1, 1000)).toMatchObject({ ok: false, reason: 'write a whole number from 1 to 1000' });
  });

  // UCUM: the international mile is [mi_i], the degree Celsius Cel.
  test('units are taken by code or spelling and kept as codes', () => {
    expect(readUnit('mph')).toEqual({ ok: true, value: '[mi_i]/h' });
    expect(readUnit('°C')).toEqual({ ok: true, value: 'Cel' });
    expect(readUnit('furlongish')).toMatchObject({ ok: false });
    expect(readState('  ')).toMatchObject({ ok: false });
  });

  test('cases read back as they were written', () => {
    for (const given of [{ source: 2 }, { value: '1/3' }, { value: -4 }, { state: 'Park' }] as const)
      expect(readCase(caseText(given))).toEqual({ ok: true, value: given });
    expect(readCase('source 0')).toMatchObject({ ok: false });
  });
});

describe('edits of a route', () => {
  const after = (edits: Parameters<typeof applyEdits>[1]): readonly Route[] => applyEdits(documents, edits).map.routes;

  test('set and take away keys, and leave alone what stays as it is', () => {
    const change = { staleAfterMs: 70, onLoss: undefined, carrier: speed.carrier };
    const edits = routeEdits(speed, change);
    expect(edits).toHaveLength(2);
    const route = after(edits).find(({ id }) => id === speed.id)!;
    expect(route).toEqual(changedRoute(speed, change));
    expect(route.staleAfterMs).toBe(70);
    expect(Object.hasOwn(route, 'onLoss')).toBe(false);
  });

  test('a value that the schema refuses is told with its place', () => {
    expect(routeFault(speed)).toBeNull();
    expect(routeFault(changedRoute(speed, { recoverAfter: 0 }))).toMatch(/^recoverAfter: /);
    expect(routeFault(changedRoute(speed, { from: ['nowhere'] }))).toMatch(/^from\.0: a reference reads/);
  });

  test('a copy stands behind its route under a free id', () => {
    const { id, edits } = duplicateEdits(pairing, speed);
    const ids = after(edits).map((route) => route.id);
    expect(pairing.routes.has(id)).toBe(false);
    expect(ids.indexOf(id)).toBe(ids.indexOf(speed.id) + 1);
    expect(after(edits).find((route) => route.id === id)).toEqual({ ...speed, id });
  });

  test('deleting a route frees those that back it up', () => {
    const backed = samplePairing((map) => ({
      ...map,
      routes: map.routes.map((route) => (route.id === 'yaw-rate' ? { ...route, backupOf: speed.id } : route)),
    }));
    const edits = deleteEdits(backed, backed.routes.get(speed.id)!);
    const { routes } = applyEdits({ ...documents, map: backed.map }, edits).map;
    expect(routes.some(({ id }) => id === speed.id)).toBe(false);
    expect(
      Object.hasOwn(
        routes.find(({ id }) => id === 'yaw-rate')!,
        'backupOf',
      ),
    ).toBe(false);
  });

  test('steps move by one place and stop at the ends', () => {
    const steps = [{ do: 'highest' }, { do: 'convert' }] as const;
    expect(stepsMoved(steps, 0, 1).map((step) => step.do)).toEqual(['convert', 'highest']);
    expect(stepsMoved(steps, 0, -1)).toEqual(steps);
  });

  test('ticking every choice of an option means always', () => {
    const axis = { id: 'drivetrain', choices: ['2wd', '4wd'] };
    const only = conditionWith(undefined, axis, '2wd', false);
    expect(only).toEqual({ drivetrain: ['4wd'] });
    expect(conditionWith(only, axis, '2wd', true)).toBeUndefined();
    expect(conditionWith({ year: ['2021'], ...only }, axis, '2wd', true)).toEqual({ year: ['2021'] });
  });
});

describe('choices', () => {
  test('offers come first as sources, needs first as targets', () => {
    expect(choicesOfEnds(pairing, 'from')[0]!.note).toContain('offer');
    expect(choicesOfEnds(pairing, 'to')[0]!.note).toContain('need');
    expect(matching(choicesOfEnds(pairing, 'from'), 'VehicleSpeed brake host').map(({ value }) => value)).toContain(
      'host:BrakeStatus1.VehicleSpeed',
    );
  });

  test('pins are told apart by their direction', () => {
    const owner = pairing.interfaceModules.get('xm')!;
    const [inputs, outputs] = [pinsOf(owner, 'in'), pinsOf(owner, 'out')];
    expect(inputs).toContain('in3');
    expect(outputs).toContain('out4');
    expect(inputs.filter((pin) => outputs.includes(pin))).toEqual([]);
  });
});
