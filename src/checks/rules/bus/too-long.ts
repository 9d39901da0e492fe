import { mergeCases, physicalCases, type PhysicalCase } from '../../bus-physics.ts';
import { nameOf } from '../../terminations.ts';
import { named, read, type Rule } from '../../rule.ts';
import { chassisBus, copperCase } from '../../examples/bus-case.ts';

export const rule: Rule = {
  id: 'bus/too-long',
  severity: 'fix',
  title: 'Bus is longer than its bit rate allows',
  why: 'Both ends must see a bit within its sample point: at 5 ns a metre, there and back, a bus at twice the bit rate may be half as long. What a join or a terminated port adds counts.',
  sources: [
    read(
      'Bus length by bit rate in engine-controller and application notes: 25 m to 40 m at 1 Mbit/s, 100 m at 500 kbit/s, 250 m at 250 kbit/s, 500 m at 125 kbit/s',
    ),
    read('ISO 11898 line delay of 5 ns/m in an equipment manual'),
  ],
  check: {
    bus(context, { side, bus }) {
      const cases = physicalCases(context, `${side}:${bus.id}`).filter((one) => lengthOf(one) > limitOf(one).busM);
      return mergeCases(cases, (one) => `${lengthOf(one)}`).map((one) => {
        const limit = limitOf(one);
        const unknown = one.buses.filter(({ lengthM }) => lengthM === null).map(({ ref }) => ref);
        return {
          message: `${nameOf(one)}: ${metres(lengthOf(one))} long${unknown.length > 0 ? ` without ${unknown.join(', ')}, whose length is not known` : ''}; ${limit.bitRate / 1000} kbit/s allow ${metres(limit.busM)}`,
          mask: one.mask,
          values: [
            ...one.buses.map(({ ref, lengthM }) =>
              named(ref, lengthM === null ? 'not known' : lengthM, lengthM === null ? '' : 'm'),
            ),
            named(
              'added',
              one.buses.reduce((sum, { addedM }) => sum + addedM, 0),
              'm',
            ),
            named('most', Number(limit.busM.toFixed(2)), 'm'),
            named('source', limit.source),
          ],
        };
      });
    },
  },
  examples: {
    failing: () => ({
      says: 'A chassis bus of 30 m at 1 Mbit/s.',
      documents: copperCase({ ...chassisBus({ bitRate: 1_000_000, lengthM: 30 }) }),
      expect: ['bus:host:body-can'],
    }),
    passing: () => ({
      says: 'The same at 500 kbit/s.',
      documents: copperCase({ lengthM: 30 }),
      expect: [],
    }),
  },
};

function lengthOf({ buses }: PhysicalCase): number {
  return buses.reduce((sum, { lengthM, addedM }) => sum + (lengthM ?? 0) + addedM, 0);
}

/** Of several bit rates the strictest limit. */
function limitOf({ buses }: PhysicalCase) {
  return buses.map(({ bitRate, limits }) => ({ bitRate, ...limits })).reduce((a, b) => (b.busM < a.busM ? b : a));
}

function metres(length: number): string {
  return `${Number(length.toFixed(2))} m`;
}
