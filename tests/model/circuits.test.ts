import { describe, expect, it } from 'vitest';
import { deriveCircuits, deriveHarness, type Circuit, type CircuitEnd } from '../../src/model/index.ts';
import { mapParts, smallPairing } from '../wiring/small-pairing.ts';

const pairing = smallPairing();
const harness = deriveHarness(pairing);

function find(key: string, circuits: readonly Circuit[] = harness.circuits): Circuit {
  const circuit = circuits.find((one) => one.key === key);
  if (!circuit) throw new Error(`no circuit ${key}; there are ${circuits.map((one) => one.key).join(', ')}`);
  return circuit;
}
const place = (end: CircuitEnd): string => end.key;

/** In each build no place holds two conductors, and every conductor has two different ends. */
function placesHeldTwice(circuits: readonly Circuit[], builds: number): string[] {
  const faults: string[] = [];
  for (let build = 0; build < builds; build += 1) {
    const held = new Map<string, string>();
    for (const circuit of circuits) {
      if (((circuit.mask >> BigInt(build)) & 1n) === 0n) continue;
      if (circuit.from.key === circuit.to.key) faults.push(`${circuit.key} ends where it starts`);
      for (const end of [circuit.from, circuit.to]) {
        if (end.kind === 'stud' || end.kind === 'splice') continue;
        if (held.has(end.key)) faults.push(`${end.key}: ${held.get(end.key)} and ${circuit.key}`);
        held.set(end.key, circuit.key);
      }
    }
  }
  return faults;
}

describe('circuits of the added harness', () => {
  it('derives every kind of conductor the map implies, and no other', () => {
    expect(harness.circuits.map(({ key }) => key).sort()).toEqual(
      [
        'stub:donor:D2/14',
        'route:park-neutral/1',
        'route:park-neutral-copy/1',
        'route:coolant/1',
        'route:coolant/return',
        'pin:xm.in3',
        'pin:xm.out1/1',
        'pin:xm.out1/2',
        'stub:host:C9/3',
        'feed:xm',
        'part:k1.85',
        'ground:xm',
        'part:k1.30',
        'bus:xm.A/high',
        'bus:xm.A/low',
        'bus:xm.B/high',
        'bus:xm.B/low',
      ].sort(),
    );
    expect(harness.problems).toEqual([]);
  });

  it('runs a hard wire from cavity to cavity, with a splice where two routes tap one source', () => {
    const stub = find('stub:donor:D2/14');
    expect(place(stub.from)).toBe('donor:D2/14');
    expect(stub.to.kind).toBe('splice');
    expect(stub.routeIds).toEqual(['park-neutral', 'park-neutral-copy']);
    expect(place(find('route:park-neutral/1').to)).toBe('host:C9/85');
    expect(place(find('route:park-neutral-copy/1').to)).toBe('host:C1/7');
    expect(harness.splices.map(({ id, circuits }) => [id, [...circuits].sort()])).toEqual([
      ['splice:donor:D2/14', ['route:park-neutral-copy/1', 'route:park-neutral/1', 'stub:donor:D2/14']],
      ['splice:host:C9/3', ['feed:xm', 'part:k1.85', 'stub:host:C9/3']],
    ]);
  });

  it("takes the conductor from the person's choice, else the route, else the platform", () => {
    const chosen = find('route:park-neutral/1');
    expect([
      chosen.id,
      chosen.conductor.size,
      chosen.conductor.sizeFrom,
      chosen.conductor.colour,
      chosen.label,
    ]).toEqual(['101', '1mm2', 'circuit', 'WH-BU', 'P/N']);
    const routed = find('route:park-neutral-copy/1').conductor;
    expect([routed.size, routed.sizeFrom, routed.colour]).toEqual(['0.75mm2', 'route', 'YE']);
    expect(find('pin:xm.in3').conductor).toMatchObject({ size: null, sizeFrom: null, colour: null });
  });

  it('goes from an output pin to the coil it drives, and from the contact to the load', () => {
    const coil = find('pin:xm.out1/1');
    expect([place(coil.from), place(coil.to)]).toEqual(['X1/9', 'k1.86']);
    const contact = find('pin:xm.out1/2');
    expect([place(contact.from), place(contact.to)]).toEqual(['k1.87', 'host:C9/4']);
    expect(contact.fuse).toEqual({ id: 'host:F14', fuseA: 20, place: 'feed' });
    expect([contact.loadA, contact.inrushA]).toEqual([3.5, 30]);
    // Ohm's law: a 90 Ω coil on 12 V draws 0.133 A; the contact's feed carries the lamps' current, the coil's does not.
    expect(coil.loadA).toBeCloseTo(0.1333, 4);
    expect(coil.inrushA).toBeNull();
    expect(find('part:k1.30').loadA).toBe(3.5);
  });

  it('feeds and grounds the interface module, and adds up what a shared stub carries', () => {
    const feed = find('feed:xm');
    expect([feed.from.kind, place(feed.to), feed.loadA]).toEqual(['splice', 'X1/5', 1.5]);
    expect(find('stub:host:C9/3').loadA).toBeCloseTo(1.6333, 4);
    expect(find('stub:host:C9/3').fuse).toEqual({ id: 'host:F12', fuseA: 10, place: 'feed' });
    const ground = find('ground:xm');
    expect(ground.to).toEqual({ kind: 'stud', key: 'host:G101', ground: 'host:G101', stud: 'left front rail' });
  });

  it('twists bus pairs, and taps the pair of a retained module', () => {
    const [high, low] = [find('bus:xm.A/high'), find('bus:xm.A/low')];
    expect(high.twistGroup).toBe(low.twistGroup);
    expect(high.twistGroup).not.toBe(find('bus:xm.B/high').twistGroup);
    expect(high.from).toMatchObject({ kind: 'cavity', connector: 'host:C1', cavity: '1', joint: 'tap' });
    expect(find('bus:xm.B/high').from).toMatchObject({ connector: 'donor:D1', joint: 'terminal' });
  });

  it("lets a sensor's return follow its signal", () => {
    const back = find('route:coolant/return');
    expect([place(back.from), place(back.to)]).toEqual(['donor:D3/2', 'host:C3/6']);
    expect(back.toElectrical?.class).toBe('sensor-return');
  });

  it('ranks a conductor by its worst function', () => {
    expect(find('route:park-neutral/1').criticality).toBe('interlock');
    expect(find('route:coolant/1').criticality).not.toBe('interlock');
  });

  it('says what is not known instead of leaving it out', () => {
    const routes = [
      { id: 'a', from: ['donor:no-place'], to: 'host:starter-inhibit', carrier: 'hard-wire' },
      { id: 'b', from: ['donor:Nothing.Here'], to: 'host:pn-display', carrier: 'hard-wire' },
      {
        id: 'c',
        from: ['donor:reverse-contact'],
        to: 'host:reverse-lamp',
        carrier: 'interface',
        by: 'xm',
        leaves: 'out9',
      },
    ];
    const wires = [
      { id: 'no-place', title: 'n', module: 'tcm', direction: 'out', electrical: { class: 'switched-ground' } },
      { id: 'reverse-contact', title: 'r', module: 'tcm', direction: 'out', electrical: { class: 'switched-ground' } },
    ];
    const derived = deriveHarness(smallPairing({ routes }, {}, { wires }));
    expect(find('route:a/1', derived.circuits).missing).toEqual(['the connector and cavity of donor:no-place']);
    expect(derived.problems.map(({ kind, subject }) => [kind, subject])).toEqual([
      ['not-a-wire', 'b'],
      ['wire-without-pin', 'c'],
      ['unknown-pin', 'c'],
      ['choice-of-nothing', '101'],
    ]);
  });

  it('needs no splice where two routes share a cavity in different builds only', () => {
    const derived = deriveHarness(
      smallPairing({
        options: [{ id: 'drivetrain', choices: ['2wd', '4wd'] }],
        routes: [
          { ...(mapParts.routes as object[])[0], when: { drivetrain: ['2wd'] } },
          { ...(mapParts.routes as object[])[1], when: { drivetrain: ['4wd'] } },
        ],
      }),
    );
    expect(derived.splices.map(({ id }) => id)).toEqual(['splice:host:C9/3']);
    expect(placesHeldTwice(derived.circuits, 2)).toEqual([]);
  });

  it('does not let a splice join two nets in a build where the route between them is missing', () => {
    // a: D2/14 – C9/85 always; b: D2/15 – C1/7 always; c: D2/15 – C9/85 in 4wd only.
    const routes = [
      { id: 'a', from: ['donor:park-neutral'], to: 'host:starter-inhibit', carrier: 'hard-wire' },
      { id: 'b', from: ['donor:reverse-contact'], to: 'host:pn-display', carrier: 'hard-wire' },
      {
        id: 'c',
        from: ['donor:reverse-contact'],
        to: 'host:starter-inhibit',
        carrier: 'hard-wire',
        when: { drivetrain: ['4wd'] },
      },
    ];
    const derived = deriveHarness(smallPairing({ options: [{ id: 'drivetrain', choices: ['2wd', '4wd'] }], routes }));
    const in2wd = derived.circuits.filter((one) => (one.mask & 1n) !== 0n && one.routeIds.length > 0);
    expect(in2wd.map(({ from, to }) => [from.key, to.key]).sort()).toEqual([
      ['donor:D2/14', 'host:C9/85'],
      ['donor:D2/15', 'host:C1/7'],
    ]);
    expect(placesHeldTwice(derived.circuits, 2)).toEqual([]);
  });

  it('finds two sources joined on one conductor', () => {
    const routes = [
      { id: 'a', from: ['donor:park-neutral'], to: 'host:starter-inhibit', carrier: 'hard-wire' },
      { id: 'b', from: ['donor:reverse-contact'], to: 'host:starter-inhibit', carrier: 'hard-wire' },
    ];
    const derived = deriveHarness(smallPairing({ routes }));
    expect(derived.problems.map(({ kind }) => kind)).toContain('drivers-joined');
  });

  it('gives two ends to every conductor, one conductor to every place, and one id to every conductor', () => {
    expect(placesHeldTwice(harness.circuits, 1)).toEqual([]);
    expect(new Set(harness.circuits.map(({ id }) => id)).size).toBe(harness.circuits.length);
    expect(new Set(harness.circuits.map(({ key }) => key)).size).toBe(harness.circuits.length);
    expect(deriveCircuits(pairing)).toEqual(harness.circuits);
  });
});
