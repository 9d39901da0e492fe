import { fromMemory, named, type Rule } from '../../rule.ts';
import { supplyCase } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'supply/transient-protection',
  severity: 'fix',
  title: 'Interface module is not rated for the transients of a vehicle',
  why: 'When the battery comes off a charging alternator the supply rises to 35 V and more for tenths of a second, even with suppression: a part made for 30 V is gone, and its outputs with it.',
  sources: [
    fromMemory('ISO 16750-2 test B: load dump, suppressed to about 35 V'),
    fromMemory('ISO 7637-2 pulses 1 to 3'),
  ],
  check: {
    interface({ pairing }, owner) {
      if (owner.transientProtected === true) return null;
      const stated = owner.transientProtected === false;
      return [
        {
          severity: stated ? ('fix' as const) : ('look' as const),
          message: stated
            ? `${owner.title} (${owner.id}) is not protected against the transients of a vehicle`
            : `nothing says whether ${owner.title} (${owner.id}) is protected against the transients of a vehicle`,
          mask: pairing.options.maskOf(owner.when),
          values: [
            named('module', owner.id),
            named('protected', owner.transientProtected === undefined ? 'not stated' : 'no'),
          ],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'A board made for a bench supply.',
      documents: supplyCase({ module: { transientProtected: false } }),
      expect: ['xm'],
    }),
    passing: () => ({ says: 'A module made for vehicles.', documents: supplyCase(), expect: [] }),
  },
};
