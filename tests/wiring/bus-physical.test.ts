import { expect, it } from 'vitest';
import { type Pairing } from '../../src/model/index.ts';
import { buildHarness, busesPhysical, type BusPhysical } from '../../src/wiring/index.ts';
import { hostParts, mapParts, routedHarness, smallPairing } from './small-pairing.ts';

const bus = (pairing: Pairing, ref: string): BusPhysical => busesPhysical(pairing).find((one) => one.ref === ref)!;

it('a terminator goes with its removed module, and a part or a port can take its place', () => {
  const fates = { 'host:ecm': 'removed', 'host:cluster': 'removed' };
  const removed = bus(smallPairing({ fates }), 'host:chassis-can');
  expect([removed.termination.verdict, removed.removedTerminators.map(({ at }) => at)]).toEqual([
    'too-few',
    ['host:cluster'],
  ]);
  const part = {
    id: 't1',
    title: 'Terminator',
    kind: 'terminator',
    ohm: 120,
    terminals: { high: 'host:chassis-can.high', low: 'host:chassis-can.low' },
  };
  const harness = { ...(mapParts.harness as object), parts: [part] };
  expect(bus(smallPairing({ fates, harness }), 'host:chassis-can').termination).toEqual({
    count: 2,
    pairOhm: 60,
    verdict: 'two',
  });
  const [module] = mapParts.interfaceModules as { ports: object[] }[];
  const terminated = [{ ...module, ports: [{ ...module!.ports[0], terminationOhm: 120 }, module!.ports[1]] }];
  const byPort = bus(smallPairing({ fates, interfaceModules: terminated }), 'host:chassis-can');
  expect([byPort.termination.verdict, byPort.stubs]).toEqual(['two', []]);
  expect(bus(smallPairing({ interfaceModules: terminated }), 'host:chassis-can').termination.verdict).toBe('too-many');
});

it('the added pair of a port is a stub as long as its way', () => {
  const plan = buildHarness(smallPairing({ harness: routedHarness }));
  const stub = plan.buses.find(({ ref }) => ref === 'host:chassis-can')!.stubs.find(({ at }) => at === 'xm.A')!;
  // C1 – b1 – b2 – X1 of the fixture.
  expect(stub.lengthM).toBeCloseTo(0.5 + 1.2 + 0.4, 9);
  expect(stub.added).toBe(true);
});

it('buses that a route joins without a module between have their terminators together', () => {
  const message = (busId: string) => ({
    id: 'M',
    bus: busId,
    frameId: '0x100',
    idFormat: 'standard',
    length: 8,
    sender: null,
    signals: [],
  });
  const donorBus = {
    id: 'powertrain-can',
    kind: 'can',
    bitRate: 500000,
    terminations: [{ at: 'tcm', ohm: 120 }],
    tap: { high: { connector: 'D1', cavity: 'A' }, low: { connector: 'D1', cavity: 'B' } },
  };
  const routes = [{ id: 'shared', from: ['donor:M'], to: 'host:M', carrier: 'bus' }];
  const joined = smallPairing(
    { routes },
    { messages: [message('chassis-can')], buses: hostParts.buses },
    { messages: [message('powertrain-can')], buses: [donorBus] },
  );
  const { termination, joined: others } = bus(joined, 'host:chassis-can');
  expect(others).toEqual(['donor:powertrain-can']);
  expect(termination.verdict).toBe('too-many');
  expect(termination.pairOhm).toBeCloseTo(40, 9);
});

it('buses that the vehicle joins are one pair: a terminator named by both counts once', () => {
  const [first] = hostParts.buses as Record<string, unknown>[];
  const other = {
    id: 'rear-can',
    kind: 'can',
    bitRate: 500000,
    lengthM: 3,
    terminations: [{ at: 'cluster', ohm: 120 }],
  };
  const pairing = smallPairing({}, { buses: [{ ...first, joinedWith: ['rear-can'] }, other] });
  const alone = bus(smallPairing({}), 'host:chassis-can');
  const joined = bus(pairing, 'host:rear-can');
  expect(joined.joined).toEqual(['host:chassis-can']);
  expect(joined.termination).toEqual(alone.termination);
});

it('a terminator in a module that only some builds have is not there in the others', () => {
  const options = [{ id: 'trailer', choices: ['yes', 'no'] }];
  const part = (when?: object) => ({
    id: 't1',
    title: 'Terminator',
    kind: 'terminator',
    ohm: 120,
    terminals: { high: 'host:chassis-can.high', low: 'host:chassis-can.low' },
    ...(when ? { when } : {}),
  });
  const fates = { 'host:ecm': 'removed', 'host:cluster': 'removed' };
  const harness = { ...(mapParts.harness as object), parts: [part({ trailer: ['yes'] })] };
  const pairing = smallPairing({ fates, options, harness });
  const verdict = (choice: string) =>
    busesPhysical(pairing, { mask: pairing.options.maskOf({ trailer: [choice] }) }).find(
      ({ ref }) => ref === 'host:chassis-can',
    )!.termination.verdict;
  expect([verdict('yes'), verdict('no')]).toEqual(['two', 'too-few']);
});

it('a part with both terminals on one line terminates nothing', () => {
  const part = { id: 't1', title: 'Terminator', kind: 'terminator', ohm: 120 };
  const terminals = { high: 'host:chassis-can.high', low: 'host:chassis-can.high' };
  const harness = { ...(mapParts.harness as object), parts: [{ ...part, terminals }] };
  expect(bus(smallPairing({ harness }), 'host:chassis-can').terminators.map(({ at }) => at)).not.toContain('t1');
});
