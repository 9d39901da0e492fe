import type { Pairing, WireEntry } from '../../../model/index.ts';
import type { WiringPlan } from '../../../wiring/index.ts';
import { rounded, sizeWords } from '../../circuits.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { harnessCase, type HarnessCase } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'supply/engine-strap-missing',
  severity: 'stop',
  title: 'No strap from the engine to chassis and battery',
  why: 'Hundreds of amperes of the starter return by something: without a strap through a shift cable, a sensor shield or a bearing.',
  sources: [commonPractice('a strap from engine block to chassis and battery negative, as thick as the starter cable')],
  check: {
    harness({ pairing }, plan) {
      // Without any conductor there is no harness yet that a strap could be missing from.
      const wired = plan.conductors.filter(({ circuit }) => circuit.routeIds.length > 0);
      if (wired.length === 0 || !startsTheEngine(pairing)) return [];
      const powers = pairing.donor.platform.grounds.filter(({ kind }) => kind === 'power');
      if (powers.length === 0) {
        return [
          {
            severity: 'look' as const,
            subject: 'map',
            message: `${pairing.donor.platform.title} names no power ground: nothing says where the current of its starter returns`,
            values: [named('power grounds of the powertrain', 0)],
          },
        ];
      }
      const straps = strapsOf(pairing);
      if (straps.length === 0) {
        const unplaced = powerWires(pairing).filter(({ donor }) => donor.wire.ground === undefined);
        const points = powers
          .map(({ id, title }) => `donor:${id}${title === undefined ? '' : ` (${title})`}`)
          .join(', ');
        return [
          {
            subject: `ground:donor:${powers[0]!.id}`,
            severity: unplaced.length > 0 ? ('look' as const) : ('stop' as const),
            message:
              unplaced.length > 0
                ? `nothing says whether ${unplaced.map(({ routeId, donor }) => `${routeId} (${donor.ref})`).join(', ')} ends on ${points}: name the ground point that the strap lies on`
                : `no hard wire joins ${points} with a power ground of the chassis`,
            values: powers.map(({ id }) => named('ground of the powertrain', `donor:${id}`)),
          },
        ];
      }
      return thin(plan, straps);
    },
  },
  examples: {
    failing: () => ({
      says: 'The range switch is grounded at the engine block, and nothing joins the block with the body.',
      documents: starting({}),
      expect: ['ground:donor:K1'],
    }),
    passing: () => ({
      says: 'A strap of 25 mm² joins them.',
      documents: starting({
        hostWires: [
          {
            id: 'strap',
            title: 'Battery negative',
            module: 'idle-button',
            direction: 'out',
            electrical: { class: 'power-ground', maxA: 300 },
            ground: 'G1',
            at: { connector: 'C9', cavity: '1' },
            documents: ['sheet-1'],
          },
        ],
        donorWires: [
          {
            id: 'block',
            title: 'Engine block',
            module: 'engine',
            direction: 'in',
            driver: 'old-panel',
            electrical: { class: 'power-ground', loadA: 40 },
            ground: 'K1',
            at: { connector: 'C8', cavity: '1' },
            documents: ['sheet-1'],
          },
        ],
        routes: [{ id: 'strap', from: ['host:strap'], to: 'donor:block', carrier: 'hard-wire', measured: true }],
        circuits: [{ id: '102', of: 'route:strap/1', label: '102 STRAP', conductor: { size: '25mm2', colour: 'BK' } }],
      }),
      expect: [],
    }),
  },
};

/** Whether the map carries a function that turns the starter of the powertrain. */
function startsTheEngine({ map, find }: Pairing): boolean {
  const starting: ReadonlySet<string> = new Set([
    'park-neutral-starter-interlock',
    'starter-relay-command',
    'crank-request',
  ]);
  return map.routes.some((route) => {
    if (route.function !== undefined) return starting.has(route.function);
    const target = find(route.to);
    return target?.kind === 'wire' && starting.has(target.wire.function ?? '');
  });
}

interface PowerWire {
  readonly routeId: string;
  readonly donor: WireEntry;
}

/** Hard wires from a power ground of one side to one of the other, by the classes of their ends. */
function powerWires(pairing: Pairing): readonly PowerWire[] {
  return pairing.map.routes.flatMap((route): PowerWire[] => {
    if (route.carrier !== 'hard-wire') return [];
    const both = [pairing.find(route.from[0] ?? ''), pairing.find(route.to)].flatMap((entry) =>
      entry?.kind === 'wire' && entry.wire.electrical.class === 'power-ground' ? [entry] : [],
    );
    const donor = both.find(({ side }) => side === 'donor');
    return both.length === 2 && donor && both.some(({ side }) => side === 'host') ? [{ routeId: route.id, donor }] : [];
  });
}

/** Those which end on a ground point of the powertrain: the ground of a lever or a sensor is no strap. */
function strapsOf(pairing: Pairing): readonly PowerWire[] {
  return powerWires(pairing).filter(
    ({ donor }) => donor.wire.ground !== undefined && pairing.donor.grounds.get(donor.wire.ground)?.kind === 'power',
  );
}

/** A strap thinner than the thickest supply conductor cannot bring its current back. */
function thin({ conductors }: WiringPlan, straps: readonly PowerWire[]): Draft[] {
  const ids = new Set(straps.map(({ routeId }) => routeId));
  const strap = conductors
    .filter(({ circuit }) => circuit.routeIds.some((id) => ids.has(id)))
    .reduce<(typeof conductors)[number] | null>(
      (most, one) => (most && most.size.areaMm2 >= one.size.areaMm2 ? most : one),
      null,
    );
  const feed = conductors
    .filter(({ circuit }) => circuit.fromElectrical?.class === 'feed' || circuit.kind === 'feed')
    .reduce<(typeof conductors)[number] | null>(
      (most, one) => (most && most.size.areaMm2 >= one.size.areaMm2 ? most : one),
      null,
    );
  if (!strap || !feed || strap.size.areaMm2 >= feed.size.areaMm2) return [];
  return [
    {
      subject: `circuit:${strap.circuit.id}`,
      severity: 'fix',
      message: `the engine strap ${strap.circuit.id} is ${sizeWords(strap.size)}, thinner than the supply ${feed.circuit.id} with ${sizeWords(feed.size)}`,
      values: [
        named('strap', strap.circuit.id),
        named('cross-section', rounded(strap.size.areaMm2), 'mm2'),
        named('supply', feed.circuit.id),
        named('cross-section of the supply', rounded(feed.size.areaMm2), 'mm2'),
      ],
    },
  ];
}

function starting(change: HarnessCase) {
  return harnessCase({
    ...change,
    source: { title: 'Crank contact', function: 'crank-request', meaning: { active: 'Crank', inactive: 'Off' } },
    target: { title: 'Crank request', function: 'crank-request', meaning: { active: 'Crank', inactive: 'Off' } },
    donor: { grounds: [{ id: 'K1', title: 'Engine block', kind: 'power', stud: 'K1', documents: ['sheet-1'] }] },
  });
}
