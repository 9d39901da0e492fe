import { lossOf } from '../../../model/index.ts';
import { isMotionOrWorse } from '../../context.ts';
import { lawAndPractice } from '../../law.ts';
import { lossForTarget } from '../../loss-for-target.ts';
import { setRoute } from '../../mends.ts';
import { commonPractice, named, read, type Rule } from '../../rule.ts';
import { byte, flowCase } from '../../examples/signals.ts';
import type { Json } from '../../../model/index.ts';

export const rule: Rule = {
  id: 'time/hold-forbidden',
  severity: 'stop',
  title: 'Last value is held for an interlock or motion function',
  why: 'A torque reduction held at 10 % after the brake controller resets: the engine will not pull out of a junction. Only where the catalogue’s safe state is to hold, may it be held.',
  sources: [
    read('AUTOSAR E2E: loss and delay of communication'),
    commonPractice('safe states of the function catalogue'),
  ],
  check: {
    route(context, route) {
      if (route.onLoss?.do !== 'hold') return null;
      const entry = context.functionOf(route);
      if (!entry) return null;
      const is = context.classOf(entry);
      if (!isMotionOrWorse(is)) return null;
      const loss = lossOf(entry.id);
      const allowed = loss?.safe.some(({ do: kind }) => kind === 'hold') ?? false;
      const { forMs } = route.onLoss;
      if (allowed) return null;
      const brief = forMs !== undefined && is.staleAfterMs !== null && forMs <= is.staleAfterMs;
      const target = context.pairing.find(route.to);
      const safe = target ? lossForTarget(loss, target, entry.id) : null;
      return [
        {
          severity: brief ? 'fix' : 'stop',
          message: `${route.id} holds the last value of ${entry.title} ${forMs === undefined ? 'without a limit' : `for ${forMs} ms`} when its source is lost; the safe state is: ${entry.safeState}`,
          because: lawAndPractice(entry, is),
          mask: context.maskOf(route),
          values: [
            named('held for', forMs ?? 'ever', forMs === undefined ? '' : 'ms'),
            named('criticality', is.criticality),
            named('safe state', entry.safeState),
          ],
          mend:
            safe === null || safe.do === 'hold'
              ? null
              : setRoute(route, 'onLoss', safe as Json, 'give it the safe state of the function'),
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'A lost engine speed keeps its last value.',
      documents: speed({ do: 'hold' }),
      expect: ['route:speed'],
    }),
    passing: () => ({
      says: 'It is given as not available.',
      documents: speed({ do: 'substitute', notAvailable: true }),
      expect: [],
    }),
  },
};

function speed(onLoss: { do: 'hold' } | { do: 'substitute'; notAvailable: true }) {
  return flowCase({
    toHost: [byte('Speed', 'engine-speed', '{rev}/min', 0, { factor: 32, range: [0, 8000] })],
    route: () => ({ onLoss, staleAfterMs: 100 }),
  });
}
