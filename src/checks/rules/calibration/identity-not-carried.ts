import { maskServed } from '../../served.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { bit, flowCase } from '../../examples/signals.ts';

export const rule: Rule = {
  id: 'calibration/identity-not-carried',
  severity: 'fix',
  title: 'Vehicle identification is compared, and nobody decides about it',
  why: 'A module coded to a vehicle identity, or its replacement, will not talk, start or pass inspection when the identities disagree: carry it, or write down how it is serviced.',
  sources: [commonPractice()],
  check: {
    function(context, entry) {
      if (entry.id !== 'vin-identity') return null;
      const wanted = (['host', 'donor'] as const).filter((side) =>
        context
          .bearers(side, entry.id)
          .some((bearer) => context.readersPresent(bearer).length > 0 && context.sendersPresent(bearer).length === 0),
      );
      const open = wanted.filter((side) => (context.pairing.options.all & ~maskServed(context, entry.id, side)) !== 0n);
      if (open.length === 0) return null;
      return open.map((side) => ({
        message: `modules of the ${side} compare the vehicle identification, which a removed module sent: nothing carries it and no left-out entry says why`,
        mask: context.pairing.options.all & ~maskServed(context, entry.id, side),
        values: [named('function', entry.id), named('side', side)],
      }));
    },
  },
  examples: {
    failing: () => ({
      says: 'The engine controller compares the identity with that of a removed module.',
      documents: flowCase({ toDonor: [bit('Vin', 'vin-identity')], unrouted: ['Vin'] }),
      expect: ['function:vin-identity'],
      alsoStops: ['orphan/need-without-route'],
    }),
    passing: () => ({
      says: 'It is left out: the comparison is part of the matched immobilizer pair.',
      documents: flowCase({
        toDonor: [bit('Vin', 'vin-identity')],
        unrouted: ['Vin'],
        map: {
          leftOut: [{ function: 'vin-identity', reason: 'the module is coded to the host identity by the dealer' }],
        },
      }),
      expect: [],
    }),
  },
};
