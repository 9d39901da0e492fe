import { mergeCases, physicalCases } from '../../bus-physics.ts';
import { fromMemory, named, read, type Draft, type Rule } from '../../rule.ts';
import { copperCase, moduleWithPort } from '../../examples/bus-case.ts';

export const rule: Rule = {
  id: 'bus/stub-too-long',
  severity: 'fix',
  title: 'Stub is longer than the bit rate allows',
  why: 'A stub is an end without a terminator: its echo comes back into the bit. What the added harness hangs on the bus is such a stub, unless it is the end of the bus and terminated.',
  sources: [
    read('ISO 11898-2 in transceiver data sheets: at most 0.3 m at 1 Mbit/s'),
    read('SAE J1939-11 in engine makers’ installation manuals: at most 1 m at 250 kbit/s'),
    fromMemory('vehicle networks at 500 kbit/s (SAE J2284-3): at most 1.7 m'),
  ],
  check: {
    bus(context, { side, bus }) {
      const found = physicalCases(context, `${side}:${bus.id}`).flatMap(({ buses, mask }) =>
        buses.flatMap((on) =>
          on.stubs.flatMap((stub) => (stub.lengthM > on.limits.stubM ? [{ on, stub, mask: mask & stub.mask }] : [])),
        ),
      );
      return mergeCases(found, ({ stub }) => `${stub.at} ${stub.lengthM}`).map(({ on, stub, mask }): Draft => ({
        // One that the vehicle came with has worked so far.
        severity: stub.added ? 'fix' : 'look',
        message: `${on.ref}: the stub to ${stub.at} is ${metres(stub.lengthM)} long${stub.added ? '' : ', as built'}; ${on.bitRate / 1000} kbit/s allow ${metres(on.limits.stubM)}`,
        mask,
        values: [
          named('stub', Number(stub.lengthM.toFixed(3)), 'm'),
          named('most', Number(on.limits.stubM.toFixed(3)), 'm'),
          named('bit rate', on.bitRate / 1000, 'kbit/s'),
          named('source', on.limits.stubSource),
        ],
      }));
    },
  },
  examples: {
    failing: () => ({
      says: 'The interface module hangs on the chassis bus at 500 kbit/s by 2.5 m.',
      documents: copperCase({}, { map: { interfaceModules: [moduleWithPort({ stubM: 2.5 })] } }),
      expect: ['bus:host:body-can'],
    }),
    passing: () => ({
      says: 'It hangs on it by 0.9 m.',
      documents: copperCase({}, { map: { interfaceModules: [moduleWithPort({ stubM: 0.9 })] } }),
      expect: [],
    }),
  },
};

function metres(length: number): string {
  return `${Number(length.toFixed(2))} m`;
}
