import { findFunction } from '../../../model/index.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

const OPTIONS = [{ id: 'drivetrain', choices: ['2wd', '4wd'] }];

export const rule: Rule = {
  id: 'option/combination-uncovered',
  severity: 'stop',
  title: 'Option combination in which a need has no route',
  why: 'One vehicle of the family works, and the next, with another option, waits for a value nobody sends.',
  sources: [commonPractice('every need, in every build')],
  check: {
    need(context, need) {
      const written = context.maskWritten(need.ref);
      if (written === 0n) return null;
      const mask = need.mask & ~written & ~context.maskLeftOut(need.ref, need.function);
      if (mask === 0n) return null;
      const entry = findFunction(need.function ?? undefined);
      const is = entry && context.classOf(entry);
      return [
        {
          severity: is && is.criticality !== 'comfort' ? 'stop' : 'fix',
          message: `${need.ref} has a route, but not in every build that needs it`,
          mask,
          values: [named('need', need.ref), ...need.modules.map((id) => named('reader', `${need.side}:${id}`))],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'The route is there with four-wheel drive only.',
      documents: numberCase({ map: { options: OPTIONS }, route: { when: { drivetrain: ['4wd'] } } }),
      expect: ['host:ToCluster.OilTemp'],
    }),
    passing: () => ({ says: 'It is there in both.', documents: numberCase({ map: { options: OPTIONS } }), expect: [] }),
  },
};
