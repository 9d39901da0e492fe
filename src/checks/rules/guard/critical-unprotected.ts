import { isMotionOrWorse } from '../../context.ts';
import { lawAndPractice } from '../../law.ts';
import { commonPractice, named, read, type Draft, type Rule } from '../../rule.ts';
import { guardedCase } from '../../examples/guarded.ts';

export const rule: Rule = {
  id: 'guard/critical-unprotected',
  severity: 'fix',
  title: 'Value that moves the vehicle travels without counter and checksum',
  why: 'A frozen transmitter repeats a torque frame, and nothing tells it from a live one. Where the platform’s own frame has no guard, nobody can add one: the finding is then answered, not mended.',
  sources: [read('AUTOSAR E2E, 4.3.3'), commonPractice('counter and checksum where motion or worse')],
  check: {
    route(context, route) {
      if (route.carrier === 'hard-wire') return null;
      const entry = context.functionOf(route);
      if (!entry) return null;
      const is = context.classOf(entry);
      if (!isMotionOrWorse(is)) return null;
      const drafts: Draft[] = [];
      for (const { entry: end } of context.ends(route)) {
        if (!end || end.kind === 'wire' || end.message.diagnostic !== undefined) continue;
        const guard = end.message.protection;
        const lacking = [
          guard?.counter === undefined ? 'counter' : null,
          guard?.checksum === undefined ? 'checksum' : null,
        ].filter((part) => part !== null);
        if (lacking.length === 0) continue;
        // With one of the two a frozen or damaged frame is still caught in part.
        drafts.push({
          severity: lacking.length === 2 ? 'fix' : 'look',
          message: `${end.side}:${end.message.id} carries ${entry.title} without ${lacking.join(' and ')}`,
          because: lawAndPractice(entry, is),
          mask: context.maskOf(route),
          values: [
            named('function', entry.id),
            named('criticality', is.criticality),
            ...lacking.map((part) => named('lacking', part, '')),
          ],
        });
      }
      return drafts.length === 0 ? null : drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'Engine speed comes and goes in plain frames.',
      documents: guardedCase({ source: null, target: null }),
      expect: ['route:speed', 'route:speed'],
    }),
    passing: () => ({ says: 'Both frames have counter and checksum.', documents: guardedCase(), expect: [] }),
  },
};
