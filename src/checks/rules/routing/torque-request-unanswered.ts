import { lawAndPractice } from '../../law.ts';
import { isNative, targetSide } from '../../served.ts';
import { otherSide } from '../../../model/index.ts';
import { commonPractice, named, read, type Rule } from '../../rule.ts';
import { byte, flowCase } from '../../examples/signals.ts';

export const rule: Rule = {
  id: 'routing/torque-request-unanswered',
  severity: 'stop',
  title: 'Torque reduction is requested, and no achieved torque comes back',
  why: 'Stability control must know whether the engine did what it asked: without an answer an element of a mandated system is dead, and no lamp says so.',
  sources: [read('49 CFR 571.126'), read('49 USC 30122'), commonPractice()],
  check: {
    function(context, entry) {
      if (entry.id !== 'torque-reduction-request') return null;
      return context.routesOf(entry.id).flatMap((route) => {
        const back = otherSide(targetSide(route));
        let mask = context.maskOf(route);
        for (const answer of context.routesOf('engine-torque-actual')) {
          if (answer.to.startsWith(`${back}:`)) mask &= ~context.maskOf(answer);
        }
        if (isNative(context, 'engine-torque-actual', back)) mask = 0n;
        if (mask === 0n) return [];
        return [
          {
            subject: `route:${route.id}`,
            message: `${route.id} asks for less torque, but no route carries engine-torque-actual back to the ${back}`,
            because: lawAndPractice(entry, context.classOf(entry)),
            mask,
            values: [named('request', route.id), named('missing', 'engine-torque-actual')],
          },
        ];
      });
    },
  },
  examples: {
    failing: () => ({
      says: 'The request goes out, nothing comes back.',
      documents: torque([]),
      expect: ['route:request'],
    }),
    passing: () => ({ says: 'Actual torque comes back to the chassis.', documents: torque(['Actual']), expect: [] }),
  },
};

function torque(back: readonly string[]) {
  return flowCase({
    toDonor: [byte('Request', 'torque-reduction-request', '%')],
    toHost: back.map((id) => byte(id, 'engine-torque-actual', '%')),
    route: () => ({ staleAfterMs: 50, note: 'percent of the reference torque 400 N.m on both sides' }),
  });
}
