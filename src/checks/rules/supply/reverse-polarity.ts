import { liveIn } from '../../../wiring/index.ts';
import { feedAt } from '../../supplies.ts';
import { fromMemory, named, type Rule } from '../../rule.ts';
import { supplyCase } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'supply/reverse-polarity',
  severity: 'look',
  title: 'Interface module on a permanent feed is not safe against a battery connected the wrong way',
  why: 'A jump start with exchanged clamps puts −14 V on every permanent feed for as long as somebody looks for the fault: up to a minute.',
  sources: [fromMemory('ISO 16750-2 clause 4.7: −14 V for 60 s')],
  check: {
    interface({ pairing }, owner) {
      const found = feedAt(pairing, owner.feed);
      if (owner.reverseProtected === true || !found || !liveIn(found.feed).includes('off')) return null;
      return [
        {
          message: `${owner.title} (${owner.id}) hangs on the permanent feed ${owner.feed}, and ${owner.reverseProtected === undefined ? 'nothing says whether it stands' : 'it does not stand'} −14 V for 60 s`,
          mask: pairing.options.maskOf(owner.when),
          values: [
            named('module', owner.id),
            named('feed', owner.feed!),
            named('stands reversal', owner.reverseProtected === undefined ? 'not stated' : 'no'),
          ],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'A module without a diode or switch against reversal, on a permanent feed.',
      documents: supplyCase({ module: { reverseProtected: false } }),
      expect: ['xm'],
    }),
    passing: () => ({ says: 'It stands the reversal.', documents: supplyCase(), expect: [] }),
  },
};
