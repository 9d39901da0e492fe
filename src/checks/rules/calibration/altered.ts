import { readerIds, senderIds } from '../../../model/index.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'calibration/altered',
  severity: 'stop',
  title: 'Retained module runs an altered calibration that the map depends on',
  why: 'A workshop update or a replacement module restores the original: axle ratio, options or outputs change back, and nobody at the workshop knows. Carry the difference in the map instead.',
  sources: [commonPractice('a workshop re-flash restores the original')],
  check: {
    module(context, { module, side, ref }) {
      if (module.calibration === undefined || module.calibration === 'original') return null;
      if (context.pairing.fateOf(side, module.id) === 'removed') return null;
      const depends = context.pairing.map.routes.filter((route) =>
        [...route.from, route.to].some((end) => {
          const entry = context.pairing.find(end);
          return (
            entry !== null && entry.side === side && [...senderIds(entry), ...readerIds(entry)].includes(module.id)
          );
        }),
      );
      if (depends.length === 0) return null;
      const functions = [...new Set(depends.map((route) => context.functionIdOf(route) ?? route.id))].sort();
      const unknown = module.calibration === 'unknown';
      return [
        {
          severity: unknown ? 'look' : 'stop',
          message: unknown
            ? `whether ${ref.slice('module:'.length)} runs its original calibration is not known; these depend on it: ${functions.join(', ')}`
            : `${ref.slice('module:'.length)} runs an altered calibration; a re-flash takes it away from: ${functions.join(', ')}`,
          mask: depends.reduce((mask, route) => mask | context.maskOf(route), 0n),
          values: [named('calibration', module.calibration), ...functions.map((id) => named('depends', id))],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'The cluster was re-coded for the new tachometer.',
      documents: cluster('altered'),
      expect: ['module:host:new-cluster'],
    }),
    passing: () => ({ says: 'It is as the maker made it.', documents: cluster('original'), expect: [] }),
  },
};

function cluster(calibration: 'altered' | 'original') {
  return numberCase({
    host: { modules: [{ id: 'new-cluster', title: 'Cluster', calibration, software: '1' }] },
    targetMessage: { readers: ['new-cluster'] },
  });
}
