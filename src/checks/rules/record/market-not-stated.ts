import { commonPractice, named, read, type Draft, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'record/market-not-stated',
  severity: 'look',
  title: 'Market of a platform is not stated',
  why: 'Lamps, range logic and speedometer units differ by market, and so do the regulations that findings name.',
  sources: [read('UN R39 / 49 CFR 571.101'), commonPractice()],
  check: {
    map(context) {
      const drafts: Draft[] = [];
      for (const side of [context.pairing.host, context.pairing.donor]) {
        if ((side.platform.market ?? '').trim() !== '') continue;
        drafts.push({
          message: `the ${side.name} platform ${side.platform.id} does not state its market`,
          values: [named('platform', side.platform.id)],
        });
      }
      return drafts.length === 0 ? null : drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'The chassis names no market.',
      documents: numberCase({ host: { market: undefined } }),
      expect: ['map'],
    }),
    passing: () => ({ says: 'Both platforms do.', documents: numberCase(), expect: [] }),
  },
};
