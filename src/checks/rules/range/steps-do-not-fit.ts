import { placeOf } from '../../unit-faults.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

/** What the analysis finds in steps that no other rule speaks about. */
const SPOKEN_FOR = new Set([
  'reference-unknown',
  'kind-mismatch',
  'no-scaling',
  'hysteresis',
  'state-unknown',
  'target-lacks-state',
  'outside-refused',
  'relayed-differs',
]);

export const rule: Rule = {
  id: 'range/steps-do-not-fit',
  severity: 'stop',
  title: 'Steps that cannot do their work',
  why: 'Several sources and nothing that makes one value of them, a selector that has no case, a table that does not rise, a division by zero: what would come out is undefined.',
  sources: [commonPractice('one value for one reader, by a step that says which')],
  check: {
    route(context, route) {
      const faults = context.analysis(route).faults.filter(({ kind }) => !SPOKEN_FOR.has(kind));
      if (faults.length === 0) return null;
      const bands = new Set((route.steps ?? []).flatMap(({ do: kind }, index) => (kind === 'bands' ? [index] : [])));
      return faults
        .filter(({ kind, at }) => !(kind === 'not-rising' && at !== null && bands.has(at)))
        .map((fault) => ({
          message: `${route.id}${placeOf(fault.at)}: ${fault.message}`,
          mask: context.maskOf(route),
          values: [named('fault', fault.kind), ...(fault.at === null ? [] : [named('step', fault.at + 1)])],
        }));
    },
  },
  examples: {
    failing: () => ({
      says: 'The route reads two sources, and no step makes one value of them.',
      documents: numberCase({ route: { from: ['donor:FromEngine.OilTemp', 'donor:FromEngine.OilTemp'] } }),
      expect: ['route:the-route'],
    }),
    passing: () => ({
      says: 'The higher of the two is taken.',
      documents: numberCase({
        route: { from: ['donor:FromEngine.OilTemp', 'donor:FromEngine.OilTemp'], steps: [{ do: 'highest' }] },
      }),
      expect: [],
    }),
  },
};
