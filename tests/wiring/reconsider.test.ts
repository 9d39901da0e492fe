import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { applyEdits, pair, type CrossloomMap, type Pairing, type Platform } from '../../src/model/index.ts';
import {
  buildHarness,
  connectorFinder,
  reconsider,
  type HarnessPlan,
  type PlannedConductor,
  type Reconsidered,
  type Trial,
} from '../../src/wiring/index.ts';
import { applyTrial } from '../../src/workbench/places/harness/circuit-edits.ts';

function document<T>(name: string): T {
  return JSON.parse(readFileSync(new URL(`../../sample-maps/${name}`, import.meta.url), 'utf8')) as T;
}

const sample = pair(
  document<CrossloomMap>('ft6-orrin32.map.json'),
  document<Platform>('halden-ft6.platform.json'),
  document<Platform>('orrin-32.platform.json'),
);
const plan = buildHarness(sample);

function judge(pairing: Pairing, { conductors, settings }: HarnessPlan, id: string, trial: Trial): Reconsidered {
  const conductor = conductors.find(({ circuit }) => circuit.id === id)!;
  const byId = new Map(conductors.map((one) => [one.circuit.id, one]));
  const { twistGroup } = conductor.circuit;
  return reconsider(conductor, trial, {
    loop: conductor.loop.map((other) => byId.get(other)!),
    twisted: conductors.filter(
      (one) => one !== conductor && twistGroup !== null && one.circuit.twistGroup === twistGroup,
    ),
    find: connectorFinder(pairing),
    settings,
  });
}

const KEPT = [
  'size',
  'minimum',
  'sizeFaults',
  'lengthM',
  'cutLengthMm',
  'currentA',
  'ambientC',
  'insulation',
  'insulationC',
  'ampacityA',
  'temperatureC',
  'dropV',
  'loopDropV',
  'limitV',
] as const satisfies readonly (keyof PlannedConductor & keyof Reconsidered)[];

describe('one conductor judged anew', () => {
  it.each(plan.conductors.map(({ circuit }) => circuit.id))('circuit %s, nothing tried: as planned', (id) => {
    const conductor = plan.conductors.find(({ circuit }) => circuit.id === id)!;
    const judged = judge(sample, plan, id, {});
    for (const field of KEPT) expect(judged[field], field).toEqual(conductor[field]);
  });

  const trials: readonly (readonly [string, Trial])[] = [
    ['104', { size: '2.5mm2' }],
    ['104', { size: '10AWG', currentA: 20 }],
    ['104', { lengthM: 2.75, currentA: 18.5 }],
    ['104', { ambientC: 130 }],
    ['104', { ambientC: 60 }],
    ['111', { currentA: 2 }],
    ['111', { fuseA: 50 }],
    ['114', { size: '0.35mm2', currentA: 1.2 }],
    ['120', { size: '0.75mm2' }],
    ['132', { lengthM: 4 }],
    ['169', { currentA: 3, size: '1.5mm2', lengthM: 0.9 }],
  ];
  it.each(trials)('circuit %s with %j: as a plan of the map to which it was applied', (id, trial) => {
    const shown = {
      conductor: plan.conductors.find(({ circuit }) => circuit.id === id)!,
      facts: plan.fromTo.find(({ circuit }) => circuit === id)!,
    };
    const documents = { map: sample.map, host: sample.host.platform, donor: sample.donor.platform };
    const { edits } = applyTrial(sample.map, shown, trial);
    const { map } = applyEdits(documents, edits);
    const applied = buildHarness(pair(map, sample.host, sample.donor));
    const conductor = applied.conductors.find(({ circuit }) => circuit.id === id)!;
    const judged = judge(sample, plan, id, trial);
    for (const field of KEPT) expect(judged[field], field).toEqual(conductor[field]);
  });

  it('loses the volts of the aircraft circular’s check formula', () => {
    // FAA AC 43.13-1B CHG 1 para 11-66: VD = (resistance per foot)(length)(current), and L2 = 254.5 L1/(234.5 + T2) for
    // conductors at a temperature T2. Resistance of 16 AWG: NBS Handbook 100, 4.016 Ω per 1000 ft at 20 °C, solid; stranded
    // conductors are 1 to 4 % above (the reference beside the project, `awg`).
    const judged = judge(sample, plan, '104', { size: '16AWG', lengthM: 3.048, currentA: 10, ambientC: 60 });
    const expected = (4.016 / 1000) * 10 * 10 * ((234.5 + 60) / 254.5);
    expect(judged.dropV! / expected).toBeGreaterThanOrEqual(0.999);
    expect(judged.dropV! / expected).toBeLessThanOrEqual(1.041);
  });

  it('names the fuse by the load and by what the conductor bears', () => {
    // 80 % continuous share (fuse application guides): 6 A asks for 7.5 A, 6.1 A for 10 A. Ratings: ISO 8820-3.
    expect(judge(sample, plan, '104', { currentA: 6 }).fuse.adviseA).toBe(7.5);
    expect(judge(sample, plan, '104', { currentA: 6.1 }).fuse.adviseA).toBe(10);
    const thin = judge(sample, plan, '104', { size: '0.35mm2', currentA: 12 }).fuse;
    expect(thin.adviseA).toBeNull();
    expect(thin.verdict).toBe('too-large');
    expect(judge(sample, plan, '104', { currentA: 21, size: '10mm2' }).fuse.verdict).toBe('too-small');
    expect(judge(sample, plan, '103', {}).fuse.verdict).toBe('unknown');
  });
});
