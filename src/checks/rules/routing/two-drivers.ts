import { isMotionOrWorse } from '../../context.ts';
import { removeRoute } from '../../mends.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { interfaceRoute, numberCase, donorMessage, temperature } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'routing/two-drivers',
  severity: 'stop',
  title: 'Two routes drive one reader',
  why: 'Two owners of one value alternate or fight: the reader follows whichever came last. One route with several sources and a step that chooses says which wins.',
  sources: [commonPractice('one owner for each value')],
  check: {
    route(context, route) {
      const all = context.pairing.routesTo.get(route.to);
      if (!all || all.length < 2) return null;
      const mine = all.indexOf(route);
      return all.slice(0, mine).flatMap((other) => {
        const mask = context.maskOf(route) & context.maskOf(other);
        // Where both say when they hold, the options overlap: that is another rule's finding.
        const byOptions = route.when !== undefined && other.when !== undefined;
        const backup = route.backupOf === other.id || other.backupOf === route.id;
        if (mask === 0n || byOptions || backup) return [];
        return [
          {
            severity:
              isMotionOrWorse(context.classOfRoute(route)) || route.carrier === 'hard-wire'
                ? ('stop' as const)
                : ('fix' as const),
            message: `${other.id} and ${route.id} both write ${route.to}, and nothing says which wins`,
            mask,
            values: [named('first', other.id), named('second', route.id), named('target', route.to)],
            mend: removeRoute(route),
          },
        ];
      });
    },
  },
  examples: {
    failing: () => ({
      says: 'Two sensors are routed to one gauge.',
      documents: twoSensors(false),
      expect: ['route:second-route'],
    }),
    passing: () => ({
      says: 'One route reads both and takes the first that is valid.',
      documents: twoSensors(true),
      expect: [],
    }),
  },
};

function twoSensors(combined: boolean) {
  return numberCase({
    donorMessages: [donorMessage({ id: 'FromGearbox', frameId: '0x121', signals: [temperature()] })],
    route: combined
      ? { from: ['donor:FromEngine.OilTemp', 'donor:FromGearbox.OilTemp'], steps: [{ do: 'first-valid' }] }
      : {},
    routes: combined
      ? []
      : [interfaceRoute({ id: 'second-route', from: ['donor:FromGearbox.OilTemp'], to: 'host:ToCluster.OilTemp' })],
  });
}
