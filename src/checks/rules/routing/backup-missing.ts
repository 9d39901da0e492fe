import { lawAndPractice } from '../../law.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { interfaceWireCase } from '../../examples/wire-case.ts';
import { backedUpPair } from './backup-examples.ts';

export const rule: Rule = {
  id: 'routing/backup-missing',
  severity: 'stop',
  title: 'Function must be hard-wired or backed up, and is neither',
  why: 'The function may travel by bus or interface module only while a second, independent way stands behind it.',
  sources: [commonPractice('the carrier rule of the function catalogue')],
  check: {
    route(context, route) {
      if (route.carrier === 'hard-wire' || route.backupOf !== undefined) return null;
      const entry = context.functionOf(route);
      if (!entry) return null;
      const is = context.classOf(entry);
      if (is.carrierRule !== 'hard-wired-or-backed-up') return null;
      let mask = context.maskOf(route);
      for (const other of context.routesOf(entry.id)) {
        if (context.isHard(other) || other.backupOf === route.id) mask &= ~context.maskOf(other);
      }
      if (mask === 0n) return null;
      return [
        {
          severity: is.criticality === 'interlock' ? 'stop' : 'fix',
          message: `${entry.title} is carried by ${route.carrier === 'bus' ? 'the bus' : 'the interface module'} alone: there is neither a hard wire nor a route with backupOf "${route.id}"`,
          because: lawAndPractice(entry, is),
          mask,
          values: [named('function', entry.id), named('carrier', route.carrier), named('carrier rule', is.carrierRule)],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'Park lock status passes the interface module and nothing stands behind it.',
      documents: interfaceWireCase({
        source: { function: 'park-lock-status' },
        target: { function: 'park-lock-status' },
        route: { staleAfterMs: 200 },
      }),
      expect: ['route:the-route'],
    }),
    passing: () => ({
      says: 'A hard wire from a second contact stands behind it.',
      documents: backedUpPair(),
      expect: [],
    }),
  },
};
