import { isMotionOrWorse } from '../../context.ts';
import { commonPractice, named, read, type Rule } from '../../rule.ts';
import { GUARD, guardedCase } from '../../examples/guarded.ts';

export const rule: Rule = {
  id: 'guard/data-id-missing',
  severity: 'look',
  title: 'Checksum does not cover a data id',
  why: 'A frame of the same layout from another identifier then passes for this one. Whether the original has a data id, its specification says.',
  sources: [read('AUTOSAR E2E: data id against masquerade'), commonPractice()],
  check: {
    route(context, route) {
      if (route.carrier !== 'interface' || !isMotionOrWorse(context.classOfRoute(route))) return null;
      const target = context.pairing.find(route.to);
      if (!target || target.kind === 'wire') return null;
      const guard = target.message.protection;
      if (!guard?.checksum || guard.dataId !== undefined || !guard.algorithm?.startsWith('crc')) return null;
      return [
        {
          message: `the checksum of ${target.side}:${target.message.id} covers no data id`,
          mask: context.maskOf(route),
          values: [named('algorithm', guard.algorithm)],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'The CRC covers the payload only.',
      documents: guardedCase({ target: { ...GUARD, dataId: undefined, dataIdAt: undefined } }),
      expect: ['route:speed'],
    }),
    passing: () => ({ says: 'It covers the data id 12 too.', documents: guardedCase(), expect: [] }),
  },
};
