import { lawAndPractice } from '../../law.ts';
import { otherHalf } from '../../pairs.ts';
import { commonPractice, named, read, type Rule } from '../../rule.ts';
import { pedalCase } from './pedal-examples.ts';

export const rule: Rule = {
  id: 'routing/redundant-pair-incomplete',
  severity: 'stop',
  title: 'One of a redundant pair is missing',
  why: 'The second circuit is there to catch a stuck switch, a broken wire or a drifted track; without it nobody notices.',
  sources: [read('ISO 26262-9, dependent failures (summary)'), commonPractice()],
  check: {
    function(context, entry) {
      const half = otherHalf(entry.id);
      if (half === null || context.routesOf(half).length === 0) return null;
      // A half which its own side supplies, or which is knowingly left out, is not missing.
      const native = [...context.bearers('host', entry.id), ...context.bearers('donor', entry.id)].some(
        (bearer) =>
          context.sendersPresent(bearer).length > 0 &&
          context.readersPresent(bearer).length > 0 &&
          context.routesOf(half).some((route) => route.to.startsWith(bearer.side)),
      );
      if (native) return null;
      const mask =
        context.maskOfFunction(half) & ~context.maskOfFunction(entry.id) & ~context.maskLeftOut(null, entry.id);
      if (mask === 0n) return null;
      return [
        {
          message: `${half} is routed, but its other half ${entry.id} is not`,
          because: lawAndPractice(entry, context.classOf(entry)),
          mask,
          values: [named('routed', half), named('missing', entry.id)],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'Only the first pedal track is wired.',
      documents: pedalCase({ tracks: [1] }),
      expect: ['function:accelerator-pedal-position-2'],
      alsoStops: ['orphan/need-without-route', 'orphan/required-function-missing'],
    }),
    passing: () => ({ says: 'Both tracks are wired.', documents: pedalCase({}), expect: [] }),
  },
};
