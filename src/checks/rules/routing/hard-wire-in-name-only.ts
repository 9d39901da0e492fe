import { isMotionOrWorse } from '../../context.ts';
import { lawAndPractice } from '../../law.ts';
import { setRoute } from '../../mends.ts';
import { commonPractice, named, read, type Rule } from '../../rule.ts';
import { wireCase } from '../../examples/wire-case.ts';

export const rule: Rule = {
  id: 'routing/hard-wire-in-name-only',
  severity: 'stop',
  title: 'Route is called a hard wire, but firmware is in series',
  why: 'A wire that ends in an input of the interface module, or a relay whose coil a control unit switches, is no conductor end to end: one firmware fault moves what it drives.',
  sources: [commonPractice(), read('49 CFR 571.102 S3.1.3, where the function is the starter interlock')],
  check: {
    route(context, route) {
      if (route.carrier !== 'hard-wire') return null;
      const paths = context.paths(route);
      if (paths.length === 0) return null;
      const inSeries = new Map(
        paths
          .flatMap(({ elements }) => elements)
          .filter(({ role, programmable }) => role === 'carries' && programmable)
          .map((element) => [element.ref, element]),
      );
      const withSteps = (route.steps ?? []).length > 0;
      if (inSeries.size === 0 && !withSteps) return null;
      const entry = context.functionOf(route);
      const is = entry && context.classOf(entry);
      const culprits = [...inSeries.values()].map(({ kind, ref, why }) => `${kind} ${ref}: ${why}`);
      if (culprits.length === 0) culprits.push('it has steps, and a conductor computes nothing');
      return [
        {
          severity: isMotionOrWorse(is) || is?.carrierRule === 'hard-wired' ? 'stop' : 'fix',
          message: `${route.id} is declared a hard wire, but is none: ${culprits.join('; ')}`,
          ...(entry && is ? { because: lawAndPractice(entry, is) } : {}),
          mask: context.maskOf(route),
          values: [...inSeries.values()].map(({ kind, ref }) => named(`in series (${kind})`, ref)),
          mend:
            route.by === undefined
              ? null
              : setRoute(route, 'carrier', 'interface', 'call the carrier what it is: interface'),
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'The contact goes through a relay whose coil hangs on an output of the interface module.',
      documents: wireCase({
        route: { via: ['K1'] },
        map: {
          harness: {
            connectors: [],
            nodes: [],
            segments: [],
            circuits: [],
            parts: [
              { id: 'K1', title: 'Permission relay', kind: 'relay', coilBy: 'xm.out1', contact: 'normally-open' },
            ],
          },
        },
      }),
      expect: ['route:the-route'],
    }),
    passing: () => ({
      says: 'The relay is switched by the contact of the range switch itself.',
      documents: wireCase({
        route: { via: ['K1'] },
        map: {
          harness: {
            connectors: [],
            nodes: [],
            segments: [],
            circuits: [],
            parts: [
              {
                id: 'K1',
                title: 'Permission relay',
                kind: 'relay',
                coilBy: 'donor:range-contact',
                contact: 'normally-open',
              },
            ],
          },
        },
      }),
      expect: [],
    }),
  },
};
