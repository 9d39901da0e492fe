import { lawAndPractice } from '../../law.ts';
import { maskServed, targetSide } from '../../served.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { bit, flowCase } from '../../examples/signals.ts';

const GUARDS = [
  'hood-ajar',
  'driver-door-ajar',
  'park-neutral-starter-interlock',
  'parking-brake-switch',
  'service-brake-switch-primary',
];

export const rule: Rule = {
  id: 'routing/remote-start-unguarded',
  severity: 'stop',
  title: 'Remote start lacks a guard input',
  why: 'Nobody sits in the vehicle and somebody may stand in front of the engine: remote start needs hood, door, park, parking brake and service brake at the module that grants it.',
  sources: [commonPractice('guards of remote start')],
  ties: { of: new Set(['remote-start-request']), about: new Set(GUARDS) },
  check: {
    route(context, route) {
      const entry = context.functionOf(route);
      if (entry?.id !== 'remote-start-request') return null;
      const side = targetSide(route);
      const missing = GUARDS.map((id) => ({ id, mask: context.maskOf(route) & ~maskServed(context, id, side) })).filter(
        ({ mask }) => mask !== 0n,
      );
      if (missing.length === 0) return null;
      return [
        {
          message: `${route.id} carries remote start to the ${side}, but ${missing.map(({ id }) => id).join(', ')} ${missing.length === 1 ? 'does' : 'do'} not arrive there`,
          because: lawAndPractice(entry, context.classOf(entry)),
          mask: missing.reduce((mask, one) => mask | one.mask, 0n),
          values: missing.map(({ id }) => named('missing guard', id)),
        },
      ];
    },
  },
  examples: {
    failing: () => ({ says: 'Only the request is routed.', documents: remoteStart([]), expect: ['route:request'] }),
    passing: () => ({
      says: 'All five guards arrive with it.',
      documents: remoteStart(GUARDS),
      expect: [],
      alsoStops: ['routing/backup-missing', 'routing/not-hard-wired'],
    }),
  },
};

function remoteStart(guards: readonly string[]) {
  return flowCase({
    toDonor: [bit('Request', 'remote-start-request'), ...guards.map((id, at) => bit(`Guard${at}`, id))],
    route: () => ({ staleAfterMs: 50, onLoss: { do: 'substitute', notAvailable: true } }),
    map: { leftOut: [{ function: 'service-brake-switch-secondary', reason: 'compared on the chassis side' }] },
  });
}
