import { describe, expect, it } from 'vitest';
import { buildHarness, conductorSize, type BomRow, type HarnessPlan } from '../../src/wiring/index.ts';
import { mapParts, routedHarness, smallPairing } from './small-pairing.ts';

const plan = buildHarness(smallPairing({ harness: routedHarness }));
const row = (key: string, of: HarnessPlan = plan) => {
  const found = of.fromTo.find((one) => one.key === key);
  if (!found) throw new Error(`no row ${key}; there are ${of.fromTo.map((one) => one.key).join(', ')}`);
  return found;
};
const bom = (kind: BomRow['kind'], of: HarnessPlan = plan) => of.bom.filter((line) => line.kind === kind);

describe('lengths', () => {
  it('are the way over the segments and the service allowance, in steps of 5 mm', () => {
    // nC9 – b1 0.9 m, b1 – b2 1.2 m, b2 – nX1 0.4 m (see the fixture); 0.1 m of service.
    expect(row('feed:xm').branch).toEqual(['b1', 'b2', 'nX1']);
    expect(row('feed:xm').cutLengthMm).toBe(Math.round((1.2 + 0.4 + 0.1) * 1000));
    // The reverse contact from D2 by b2 to X1: 0.7 + 0.4 + 0.1.
    expect(row('pin:xm.in3').cutLengthMm).toBe(1200);
  });

  it('of a twisted pair are equal, and longer by the helix at a pitch of 25 mm', () => {
    const [high, low] = [row('bus:xm.A/high'), row('bus:xm.A/low')];
    expect(high.cutLengthMm).toBe(low.cutLengthMm);
    const way = 0.5 + 1.2 + 0.4;
    const helix = Math.hypot(25, Math.PI * conductorSize(high.size)!.outsideMm) / 25;
    expect(high.cutLengthMm! / 1000).toBeGreaterThanOrEqual(way * helix + 0.1 - 1e-9);
    expect(high.cutLengthMm! / 1000 - (way * helix + 0.1)).toBeLessThan(0.005);
    expect(plan.twists.find(({ group }) => group === high.twistGroup)!.circuits).toHaveLength(2);
  });

  it('measured by hand take the place of the way', () => {
    const circuits = [{ id: '7', of: 'ground:xm', conductor: { lengthM: 3.21 }, serviceM: 0 }];
    const measured = buildHarness(smallPairing({ harness: { ...routedHarness, circuits } }));
    expect(row('ground:xm', measured).cutLengthMm).toBe(3210);
  });

  it('that nobody can know are said to be open, not guessed', () => {
    const bare = buildHarness(smallPairing());
    expect(row('ground:xm', bare).cutLengthMm).toBeNull();
    expect(bare.open.find(({ key }) => key === 'ground:xm')!.missing).toEqual([
      'a node of the harness for X1',
      'a node of the harness for host:G101',
    ]);
    expect(bare.totals.withoutLength).toBe(bare.totals.conductors);
    expect(bom('wire', bare).every(({ without, net }) => net === 0 && without.length > 0)).toBe(true);
  });
});

describe('sizes', () => {
  it('are as a person set them, else the smallest that meets every demand, with the reason', () => {
    expect([row('route:park-neutral/1').size, row('route:park-neutral/1').sizeBy]).toEqual(['1mm2', 'circuit']);
    const lamps = plan.conductors.find(({ circuit }) => circuit.key === 'pin:xm.out1/2')!;
    // F14 has 20 A: the conductor behind it must bear 20 A at 85 °C with 105 °C insulation, factor √(20/75) = 0.516.
    expect([lamps.sizeBy, lamps.minimum.reason]).toEqual(['computed', 'fuse']);
    expect(lamps.ampacityA).toBeGreaterThanOrEqual(20);
    expect(lamps.size.areaMm2).toBeGreaterThanOrEqual(4);
  });

  it('too small for their fuse, terminal or drop are named', () => {
    const thin = [{ id: '9', of: 'pin:xm.out1/2', conductor: { size: '0.5mm2' } }];
    const harness = { ...routedHarness, circuits: thin };
    const lamps = buildHarness(smallPairing({ harness })).conductors.find(({ circuit }) => circuit.id === '9')!;
    expect(lamps.sizeFaults).toContain('fuse');
    const long = { ...harness, circuits: [{ id: '9', of: 'feed:xm', conductor: { size: '0.35mm2', lengthM: 40 } }] };
    const feed = buildHarness(smallPairing({ harness: long })).conductors.find(({ circuit }) => circuit.id === '9')!;
    expect(feed.sizeFaults).toContain('drop');
    expect(feed.loopDropV!).toBeGreaterThan(feed.limitV!);
  });

  it('drops follow from Ohm: the feed and ground of the module, 1.5 A, at 85 °C', () => {
    const feed = plan.conductors.find(({ circuit }) => circuit.key === 'feed:xm')!;
    const hot = (234.5 + 85) / 254.5;
    expect(feed.dropV).toBeCloseTo(1.5 * feed.size.ohmPerM20C * 1.6 * hot, 9);
    expect(feed.loop).toEqual(expect.arrayContaining(['ground-xm', 'stub-host-C9/3']));
    expect(feed.loopDropV!).toBeGreaterThan(feed.dropV!);
    expect(feed.limitV).toBeCloseTo(0.36, 9);
  });
});

describe('sheets', () => {
  it('connector pages show every cavity once, what is in it, and a plug where a sealed one is empty', () => {
    const page = plan.connectors.find(({ ref }) => ref === 'X1')!;
    expect(page.cavities.map(({ cavity, state }) => [cavity, state])).toEqual([
      ['1', 'added'],
      ['2', 'added'],
      ['3', 'added'],
      ['4', 'added'],
      ['5', 'added'],
      ['6', 'added'],
      ['7', 'empty'],
      ['8', 'added'],
      ['9', 'added'],
    ]);
    expect(page.cavities.find(({ cavity }) => cavity === '7')).toMatchObject({ needsPlug: true, plug: 'PLUG-1' });
    const cluster = plan.connectors.find(({ ref }) => ref === 'host:C3')!;
    expect(cluster.cavities.find(({ cavity }) => cavity === '7')!.needsPlug).toBe(true);
    expect(plan.connectors.find(({ ref }) => ref === 'host:C1')!.cavities.map(({ state }) => state)).toEqual([
      'added',
      'added',
      'added',
      'empty',
    ]);
  });

  it('a conductor in a cavity the housing lacks, or that its terminal does not accept, is shown', () => {
    const odd = buildHarness(
      smallPairing(
        { harness: routedHarness },
        { connectors: [{ id: 'C9', title: 'Box', cavities: ['3'], accepts: { minMm2: 0.35, maxMm2: 0.5 } }] },
      ),
    );
    const page = odd.connectors.find(({ ref }) => ref === 'host:C9')!;
    expect(
      page.cavities
        .filter(({ state }) => state === 'not-on-connector')
        .map(({ cavity }) => cavity)
        .sort(),
    ).toEqual(['4', '5', '85']);
    expect(page.cavities.find(({ cavity }) => cavity === '4')!.conductors[0]!.accepted).toBe(false);
    expect(odd.connectors.find(({ ref }) => ref === 'host:C1')!.known).toBe(false);
  });

  it('the cut list holds every conductor once, in order of size, colour and length', () => {
    expect(plan.cut.map(({ circuit }) => circuit).sort()).toEqual(plan.fromTo.map(({ circuit }) => circuit).sort());
    const areas = plan.cut.map(({ areaMm2 }) => areaMm2);
    expect(areas).toEqual([...areas].sort((a, b) => a - b));
  });

  it('splices say where, what and how; feeds and grounds what hangs on them', () => {
    // By hand, 0.75 mm² to D2, 1 mm² to C9, 0.75 mm² to C1: at b1 0.75·1.9 + 1·0.9 + 0.75·0.5 = 2.7, at b2 3.9 mm²·m.
    expect(plan.splices[0]!.copperMm2M).toBeCloseTo(2.7, 9);
    expect(plan.splices.map(({ splice, node, placedBy }) => [splice, node, placedBy])).toEqual([
      ['S/donor:D2-14', 'b1', 'least-copper'],
      ['S/host:C9-3', 'b1', 'least-copper'],
    ]);
    const f12 = plan.fuses.find(({ fuse }) => fuse === 'host:F12')!;
    expect([f12.ratingA, f12.colour, f12.liveIn, f12.protects]).toEqual([10, 'red', ['run', 'start'], true]);
    // 1.5 A of the module and 12 V / 90 Ω of the coil.
    expect(f12.addedA).toBeCloseTo(1.5 + 12 / 90, 9);
    const f14 = plan.fuses.find(({ fuse }) => fuse === 'host:F14')!;
    expect([f14.addedA, f14.worstA]).toEqual([3.5, 3.5]);
    expect(plan.grounds).toMatchObject([{ ground: 'host:G101', studMm: 8, torqueNm: 12, totalA: 1.5 }]);
  });

  it('labels stand at both ends and name circuit and place', () => {
    expect(plan.labels).toHaveLength(2 * plan.fromTo.length);
    expect(plan.labels.find(({ label }) => label === '101/to')!.text).toBe('101 P/N host:C9-85');
  });

  it('the bill counts terminals, seals, plugs, housings, parts, rings, splices and labels', () => {
    const count = (kind: BomRow['kind'], text: string) =>
      bom(kind)
        .filter(({ description, part }) => `${description} ${part ?? ''}`.includes(text))
        .reduce((sum, { net }) => sum + net, 0);
    expect(count('terminal', 'T-064-S')).toBe(8);
    expect(count('seal', 'S-1')).toBe(8);
    expect(bom('plug').map(({ part, usedBy }) => [part, usedBy])).toEqual([['PLUG-1', ['X1-7', 'host:C3-7']]]);
    expect(bom('part').map(({ usedBy }) => usedBy)).toEqual([['k1']]);
    expect(bom('ring').reduce((sum, { net }) => sum + net, 0)).toBe(1);
    expect(bom('label')[0]!.net).toBe(plan.labels.length);
    // Two splices of its own, and taps on the bus pair of the retained module.
    expect(bom('splice').map(({ net }) => net)).toEqual([2, 2]);
  });

  it('the test sheet proves each conductor, its neighbours, feeds, drops, buses and interlocks', () => {
    const of = (kind: string) => plan.tests.filter((test) => test.kind === kind);
    // A splice cannot be touched: a net of three conductors is two runs.
    expect(of('continuity')).toHaveLength(plan.fromTo.length - plan.splices.length);
    const park = of('continuity').find(({ points }) => points.includes('host:C9-85'))!;
    expect(park.points).toEqual(['donor:D2-14', 'host:C9-85']);
    const legs = plan.fromTo.filter(({ circuit }) => park.circuits.includes(circuit));
    const ohm = legs.reduce((sum, leg) => sum + (conductorSize(leg.size)!.ohmPerM20C * leg.cutLengthMm!) / 1000, 0);
    expect(park.expectedValue).toBeCloseTo(ohm, 9);
    expect(park.highest).toBeCloseTo(ohm + 0.02, 9);
    expect(of('isolation').every(({ lowest }) => lowest === 1_000_000)).toBe(true);
    expect(of('isolation').map(({ points }) => points.join(' | '))).toContain('X1-5 | X1-6');
    expect(of('feed-voltage').map(({ condition }) => condition.split(',')[0])).toEqual(
      expect.arrayContaining(['host:F12 in', 'host:F12 out', 'host:F14 in', 'host:F14 out']),
    );
    const chassis = of('bus').find(
      ({ condition, expectedValue }) => condition.includes('host:chassis-can') && expectedValue !== null,
    )!;
    expect(chassis.expectedValue).toBe(60);
    expect(of('interlock').map(({ condition, expected }) => [condition, expected])).toEqual(
      expect.arrayContaining([
        ['Park/neutral contact: Park or Neutral', 'host:starter-inhibit active, level low'],
        ['Park/neutral contact: In gear', 'host:starter-inhibit at rest, level high'],
      ]),
    );
    expect(of('open-wire').some(({ circuits }) => circuits.includes('101'))).toBe(true);
    expect(new Set(plan.tests.map(({ test }) => test)).size).toBe(plan.tests.length);
  });
});

describe('options', () => {
  const pairing = smallPairing({
    harness: routedHarness,
    options: [{ id: 'drivetrain', choices: ['2wd', '4wd'] }],
    routes: (mapParts.routes as Record<string, unknown>[]).map((route) =>
      route.id === 'coolant' ? { ...route, when: { drivetrain: ['4wd'] } } : route,
    ),
  });

  it('mark the rows that belong to a part of the builds', () => {
    const all = buildHarness(pairing);
    expect(row('route:coolant/1', all).options).toEqual(['drivetrain=4wd']);
    expect(row('feed:xm', all).options).toEqual([]);
  });

  it('or give the pack of one build, without what others need', () => {
    const mask = pairing.options.maskOf({ drivetrain: ['2wd'] });
    const one = buildHarness(pairing, { mask });
    expect(one.fromTo.some(({ key }) => key === 'route:coolant/1')).toBe(false);
    expect(one.fromTo.every(({ options }) => options.length === 0)).toBe(true);
    expect(one.options).toEqual(['drivetrain=2wd']);
    expect(one.problems).toEqual([]);
  });
});
