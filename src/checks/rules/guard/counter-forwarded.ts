import { removeRoute } from '../../mends.ts';
import { commonPractice, named, read, type Rule } from '../../rule.ts';
import { guardedCase } from '../../examples/guarded.ts';
import { interfaceRoute } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'guard/counter-forwarded',
  severity: 'stop',
  title: 'Counter or checksum is copied from the source frame',
  why: 'A copied counter goes on moving when the copying module has stalled, or repeats when it is faster; a copied checksum does not fit the new payload.',
  sources: [read('AUTOSAR E2E: corruption, repetition'), commonPractice('count and sum what one sends oneself')],
  check: {
    route(context, route) {
      if (route.carrier !== 'interface') return null;
      const target = context.pairing.find(route.to);
      if (target?.kind !== 'signal') return null;
      const { protection } = target.message;
      const part =
        protection?.counter === target.signal.id
          ? 'counter'
          : protection?.checksum === target.signal.id
            ? 'checksum'
            : null;
      if (part === null) return null;
      return [
        {
          severity: part === 'checksum' ? 'stop' : 'fix',
          message: `${route.id} copies the ${part} of ${target.side}:${target.message.id}: it is made afresh for each frame that is sent`,
          mask: context.maskOf(route),
          values: [named(part, route.to)],
          mend: removeRoute(route),
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'The checksum of the powertrain’s frame is routed into the chassis frame.',
      documents: guardedCase({
        routes: [
          interfaceRoute({
            id: 'sum',
            from: ['donor:FromEngine.Checksum'],
            to: 'host:ToCluster.Checksum',
            verifySource: true,
          }),
        ],
      }),
      expect: ['route:sum'],
    }),
    passing: () => ({ says: 'The checksum is made by the transmit.', documents: guardedCase(), expect: [] }),
  },
};
