import { liveIn } from '../../../wiring/index.ts';
import { neededIn } from '../../needed-states.ts';
import { feedAt } from '../../supplies.ts';
import { fromMemory, named, type Draft, type Rule } from '../../rule.ts';
import { supplyCase } from '../../examples/harness-case.ts';

/** Supply that electronics must live through while the starter turns, in volts. */
const DIP_V = 6;

export const rule: Rule = {
  id: 'supply/crank-dip',
  severity: 'fix',
  title: 'Interface module may reset while the starter turns',
  why: 'When the starter pulls in, the supply dips to 5.5 V for 50 ms or less: a module that resets at 7 V drops its outputs, the starter lets go, the supply comes back, and the starter chatters.',
  sources: [fromMemory('ISO 16750-2 clause 4.6.3: starting profile, 3 to 8 V for 15 to 50 ms')],
  check: {
    interface(context, owner) {
      const found = feedAt(context.pairing, owner.feed);
      if (!found || !liveIn(found.feed).includes('start')) return null;
      if (owner.minV !== undefined && owner.minV <= DIP_V) return null;
      const starting = context.pairing.map.routes.filter(
        (route) => route.by === owner.id && neededIn(context.functionOf(route)).includes('start'),
      );
      const drafts: Draft[] = [
        {
          severity: owner.minV === undefined ? 'look' : 'fix',
          message:
            owner.minV === undefined
              ? `nothing says down to which supply ${owner.title} (${owner.id}) works; it is live while the starter turns`
              : `${owner.title} (${owner.id}) works down to ${owner.minV} V, and the supply dips to about ${DIP_V} V and below while the starter turns${
                  starting.length === 0
                    ? ''
                    : `; ${starting.length} of its routes are needed then: ${starting
                        .slice(0, 3)
                        .map(({ id }) => id)
                        .join(', ')}`
                }`,
          mask: context.pairing.options.maskOf(owner.when),
          values: [
            named('module', owner.id),
            named('works down to', owner.minV ?? 'not stated', owner.minV === undefined ? '' : 'V'),
            named('dip', DIP_V, 'V'),
          ],
        },
      ];
      return drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'A module that works down to 8 V on a feed that is live in start.',
      documents: supplyCase({ module: { minV: 8 } }),
      expect: ['xm'],
    }),
    passing: () => ({ says: 'It works down to 5.5 V.', documents: supplyCase(), expect: [] }),
  },
};
