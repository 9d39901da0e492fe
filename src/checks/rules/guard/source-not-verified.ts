import { isMotionOrWorse } from '../../context.ts';
import { setRoute } from '../../mends.ts';
import { commonPractice, named, read, type Draft, type Rule } from '../../rule.ts';
import { guardedCase } from '../../examples/guarded.ts';

export const rule: Rule = {
  id: 'guard/source-not-verified',
  severity: 'fix',
  title: 'Guarded source is read without checking its counter and checksum',
  why: 'A frozen or damaged frame then passes for a good one, and comes out with a fresh counter and a right checksum.',
  sources: [read('AUTOSAR E2E, 4.3.3'), commonPractice()],
  check: {
    route(context, route) {
      if (route.carrier !== 'interface' || route.verifySource === true) return null;
      const drafts: Draft[] = [];
      const is = context.classOfRoute(route);
      for (const { entry: source } of context.sources(route)) {
        if (!source || source.kind === 'wire') continue;
        const { protection } = source.message;
        if (!protection || (protection.counter === undefined && protection.checksum === undefined)) continue;
        drafts.push({
          severity: isMotionOrWorse(is) ? 'fix' : 'look',
          message: `${source.side}:${source.message.id} is guarded (${[protection.counter, protection.checksum].filter(Boolean).join(', ')}), and ${route.id} does not verify it`,
          mask: context.maskOf(route),
          values: [
            named('guarded message', `${source.side}:${source.message.id}`),
            named('algorithm', protection.algorithm ?? 'none'),
          ],
          mend: setRoute(route, 'verifySource', true, 'verify counter and checksum of the source'),
        });
      }
      return drafts.length === 0 ? null : drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'Engine speed is taken from a guarded frame unseen.',
      documents: guardedCase({ route: { verifySource: undefined } }),
      expect: ['route:speed'],
    }),
    passing: () => ({ says: 'Its counter and checksum are verified.', documents: guardedCase(), expect: [] }),
  },
};
