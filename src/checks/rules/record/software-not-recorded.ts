import { readerIds, senderIds } from '../../../model/index.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'record/software-not-recorded',
  severity: 'look',
  title: 'Software version of a module is not recorded',
  why: 'A period of 20 ms in one version is 100 ms in the next: without the version nobody can tell which vehicle the map is for.',
  sources: [commonPractice()],
  check: {
    module(context, { module, side, ref }) {
      if (module.software !== undefined || (module.kind !== undefined && module.kind !== 'controller')) return null;
      if ((module.buses ?? []).length === 0 || context.pairing.fateOf(side, module.id) === 'removed') return null;
      const used = context.pairing.map.routes.some((route) =>
        [...route.from, route.to].some((end) => {
          const entry = context.pairing.find(end);
          return (
            entry !== null &&
            entry.side === side &&
            entry.kind !== 'wire' &&
            (senderIds(entry).includes(module.id) || readerIds(entry).includes(module.id))
          );
        }),
      );
      if (!used) return null;
      return [
        {
          message: `${ref.slice('module:'.length)} takes part in routes over the network, and its software version is not recorded`,
          values: [named('module', module.id)],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'The cluster has no version.',
      documents: cluster(undefined),
      expect: ['module:host:new-cluster'],
    }),
    passing: () => ({ says: 'It has.', documents: cluster('3.2'), expect: [] }),
  },
};

function cluster(software: string | undefined) {
  return numberCase({
    host: { modules: [{ id: 'new-cluster', title: 'Cluster', buses: ['body-can'], software }] },
    targetMessage: { readers: ['new-cluster'] },
  });
}
