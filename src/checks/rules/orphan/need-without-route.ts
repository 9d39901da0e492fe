import { findFunction } from '../../../model/index.ts';
import { lawAndPractice } from '../../law.ts';
import { mendBy } from '../../mends.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';
import { bit, flowCase } from '../../examples/signals.ts';

export const rule: Rule = {
  id: 'orphan/need-without-route',
  severity: 'stop',
  title: 'Need without a route',
  why: 'A retained module waits for a value nobody sends any more: it goes to its failure mode, sets codes or lights a lamp. Route it, or leave it out with a reason.',
  sources: [commonPractice('every input of a retained module is fed or knowingly left out')],
  check: {
    need(context, need) {
      const functionId = need.function;
      // Where some combination has a route, the missing ones are a matter of the options.
      if (context.maskWritten(need.ref) !== 0n) return null;
      const mask = need.mask & ~context.maskLeftOut(need.ref, functionId);
      if (mask === 0n) return null;
      const entry = findFunction(functionId ?? undefined);
      const is = entry && context.classOf(entry);
      return [
        {
          severity: is && is.criticality !== 'comfort' ? 'stop' : 'fix',
          message: `nothing supplies ${need.ref}: ${need.because}`,
          ...(entry && is ? { because: lawAndPractice(entry, is) } : {}),
          mask,
          values: [named('need', need.ref), ...need.modules.map((id) => named('reader', `${need.side}:${id}`))],
          mend: mendBy('leave it out, and write the reason', {
            do: 'insert',
            in: 'map',
            path: ['leftOut'],
            value: { signal: need.ref, reason: 'to be decided: write why this value is not needed' },
          }),
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'The cluster reads coolant temperature, and no route gives it any.',
      documents: flowCase({ toHost: [bit('Overheat', 'coolant-overheat-warning')], unrouted: ['Overheat'] }),
      expect: ['host:ToCluster.Overheat'],
    }),
    passing: () => ({ says: 'The need has its route.', documents: numberCase(), expect: [] }),
  },
};
