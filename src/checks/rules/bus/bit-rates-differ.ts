import type { Bus, BusJoin } from '../../../model/index.ts';
import { busMemory } from '../../bus-segments.ts';
import type { CheckContext } from '../../context.ts';
import { mendBy } from '../../mends.ts';
import { commonPractice, fromMemory, named, type Draft, type Mend, type NamedValue, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'bus/bit-rates-differ',
  severity: 'stop',
  title: 'Buses of different bit rates are joined',
  why: 'Nodes of one pair must agree about the length of a bit. At another bit rate every frame is an error to the others, which then destroy it; a classical node does the same to frames of CAN FD. Sample points that differ leave less margin for length and oscillators.',
  sources: [
    fromMemory('ISO 11898-1: one nominal bit rate on a bus; error frames'),
    commonPractice('one sample point on a bus'),
  ],
  check: {
    bus(context, { side, bus }) {
      const ref = `${side}:${bus.id}`;
      return busMemory(context).joins.flatMap((join): readonly Draft[] => {
        if (join.a.ref !== ref) return [];
        const [a, b] = [join.a.bus, join.b.bus];
        const apart = differences(a, b);
        if (apart.length === 0) return [];
        const hard = apart.some(({ stops }) => stops);
        const names = `${join.a.ref} and ${join.b.ref}`;
        return [
          {
            severity: hard ? 'stop' : 'look',
            message: `${names} are joined${join.routes.length === 0 ? ' in the vehicle' : ` by ${join.routes.map(({ id }) => id).join(', ')}`}, and their ${apart.map(({ what, a: one, b: other }) => `${what} differ: ${one} against ${other}`).join('; their ')}`,
            mask: join.mask,
            values: apart.flatMap(({ what, a: one, b: other }): NamedValue[] => [
              named(`${what}, ${join.a.ref}`, one),
              named(`${what}, ${join.b.ref}`, other),
            ]),
            mend: hard ? carryThrough(context, join) : null,
          },
        ];
      });
    },
  },
  examples: {
    failing: () => ({
      says: 'A frame is to pass from the powertrain bus to a chassis bus of half its bit rate, with nothing between.',
      documents: numberCase({
        host: { buses: [{ id: 'body-can', kind: 'can', bitRate: 250000 }] },
        route: { carrier: 'bus', by: undefined },
        targetMessage: { frameId: '0x120' },
        transmit: null,
      }),
      expect: ['bus:donor:drive-can'],
      alsoStops: ['routing/bus-not-joined'],
    }),
    passing: () => ({
      says: 'The interface module carries it over.',
      documents: numberCase({ host: { buses: [{ id: 'body-can', kind: 'can', bitRate: 250000 }] } }),
      expect: [],
    }),
  },
};

interface Difference {
  readonly what: string;
  readonly a: string;
  readonly b: string;
  readonly stops: boolean;
}

function differences(a: Bus, b: Bus): readonly Difference[] {
  const all: Difference[] = [
    { what: 'bit rates', a: rate(a.bitRate), b: rate(b.bitRate), stops: true },
    { what: 'kinds', a: a.kind, b: b.kind, stops: true },
    {
      what: 'data bit rates',
      a: rate(a.dataBitRate),
      b: rate(b.dataBitRate),
      stops: a.kind === 'can-fd' && b.kind === 'can-fd',
    },
    { what: 'sample points', a: point(a), b: point(b), stops: false },
  ];
  return all.filter((one) => one.a !== one.b && one.a !== NOT_TOLD && one.b !== NOT_TOLD);
}

const NOT_TOLD = 'not told';

function rate(bitRate: number | undefined): string {
  return bitRate === undefined ? NOT_TOLD : `${bitRate / 1000} kbit/s`;
}

function point({ samplePointPercent }: Bus): string {
  return samplePointPercent === undefined ? NOT_TOLD : `${samplePointPercent} %`;
}

/** Lets an interface module carry the routes over, where just one has a port on both buses. */
function carryThrough({ pairing }: CheckContext, { a, b, routes }: BusJoin): Mend | null {
  const able = pairing.map.interfaceModules.filter(({ ports }) =>
    [a, b].every(({ ref }) => ports.some(({ bus }) => bus === ref)),
  );
  if (routes.length === 0 || able.length !== 1) return null;
  const { id } = able[0]!;
  return mendBy(
    `carry ${routes.map((route) => route.id).join(', ')} through ${id}`,
    ...routes.flatMap((route) => [
      { do: 'set', in: 'map', path: ['routes', { id: route.id }, 'carrier'], to: 'interface' } as const,
      { do: 'set', in: 'map', path: ['routes', { id: route.id }, 'by'], to: id } as const,
    ]),
  );
}
