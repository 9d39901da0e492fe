import { feedAt, groundAt } from '../../supplies.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { supplyCase } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'supply/module-unsupplied',
  severity: 'stop',
  title: 'Interface module without feed or ground',
  why: 'A module without a feed does nothing; one without a ground of its own finds one through its inputs, and drives what it should read.',
  sources: [commonPractice('every module has a fused feed and a ground in the wiring list')],
  check: {
    interface({ pairing }, owner) {
      const drafts: Draft[] = [];
      for (const [what, ref, found] of [
        ['feed', owner.feed, feedAt(pairing, owner.feed)],
        ['ground', owner.ground, groundAt(pairing, owner.ground)],
      ] as const) {
        // A name that leads nowhere is told by orphan/unknown-reference.
        if (ref !== undefined || found) continue;
        drafts.push({
          message: `${owner.title} (${owner.id}) has no ${what}`,
          values: [named('module', owner.id), named('lacks', what)],
          mask: pairing.options.maskOf(owner.when),
        });
      }
      return drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'Nothing says which fuse the interface module hangs on.',
      documents: supplyCase({ module: { feed: undefined, feedAt: undefined } }),
      expect: ['xm'],
    }),
    passing: () => ({ says: 'Feed and ground are named.', documents: supplyCase(), expect: [] }),
  },
};
