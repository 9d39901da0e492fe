import { expect, it } from 'vitest';
import { electricalFits } from '../../src/wiring/index.ts';
import { mapParts, smallPairing } from './small-pairing.ts';

const brief = (pairing: Parameters<typeof electricalFits>[0]) =>
  electricalFits(pairing).map(({ routeId, from, to, fit }) => [
    routeId,
    from,
    to,
    fit.driver,
    fit.receiver,
    fit.verdict,
  ]);

it('judges hard wires end to end, pins, and a relay as coil and contact', () => {
  expect(brief(smallPairing())).toEqual([
    ['park-neutral', 'donor:park-neutral', 'host:starter-inhibit', 'switched-ground', 'coil-to-battery', 'fits'],
    ['park-neutral-copy', 'donor:park-neutral', 'host:pn-display', 'switched-ground', 'input-pull-up-12v', 'fits'],
    ['reverse-lamp', 'donor:reverse-contact', 'xm.in3', 'switched-ground', 'input-pull-up-12v', 'fits'],
    ['reverse-lamp', 'xm.out1', 'k1.coil', 'switched-ground', 'coil-to-battery', 'fits'],
    ['reverse-lamp', 'k1.contact', 'host:reverse-lamp', 'switched-battery', 'lamp', 'fits'],
    ['coolant', 'donor:coolant-sensor', 'host:coolant-gauge', 'thermistor', 'input-analogue-pull-up', 'fits'],
  ]);
});

it('leaves outstanding only what no part of the harness provides', () => {
  const weak = {
    id: 'weak',
    title: 'Weak contact',
    module: 'tcm',
    direction: 'out',
    electrical: { class: 'switched-battery', maxA: 0.1 },
    at: { connector: 'D2', cavity: '16' },
  };
  const routes = [{ id: 'lamp', from: ['donor:weak'], to: 'host:reverse-lamp', carrier: 'hard-wire' }];
  const bare = smallPairing({ routes }, {}, { wires: [weak] });
  const [fit] = electricalFits(bare);
  expect(fit!.outstanding.map(({ kind }) => kind)).toEqual(['relay', 'high-side-driver']);
  const harness = {
    ...(mapParts.harness as object),
    parts: [
      {
        id: 'k2',
        title: 'Relay',
        kind: 'relay',
        ampere: 20,
        ohm: 300,
        coilBy: 'donor:weak',
        terminals: { '30': 'host:F14', '85': 'host:G101' },
      },
    ],
    circuits: [],
  };
  const relayed = smallPairing({ harness, routes: [{ ...routes[0], via: ['k2'] }] }, {}, { wires: [weak] });
  expect(electricalFits(relayed).map(({ from, to, fit: { verdict } }) => [from, to, verdict])).toEqual([
    ['donor:weak', 'k2.coil', 'fits'],
    ['k2.contact', 'host:reverse-lamp', 'fits'],
  ]);
});
