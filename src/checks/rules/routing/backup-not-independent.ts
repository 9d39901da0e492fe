import type { PathElement } from '../../../model/index.ts';
import { lawAndPractice } from '../../law.ts';
import { commonPractice, named, read, type Rule } from '../../rule.ts';
import { backedUpPair } from './backup-examples.ts';

/** Elements whose single failure must not take both. The driver and the reader are the same by nature of a backup. */
const SHARED_KINDS = new Set([
  'connector',
  'feed',
  'ground',
  'interface',
  'bus',
  'relay',
  'fuse',
  'splice',
  'wire',
  'in-line-connector',
]);

export const rule: Rule = {
  id: 'routing/backup-not-independent',
  severity: 'stop',
  title: 'Backup shares a part with what it backs up',
  why: 'One connector, fuse, ground or module that both hang on takes the function and its backup at once.',
  sources: [read('ISO 26262-9, dependent failures (summary)'), commonPractice()],
  check: {
    route(context, route) {
      if (route.backupOf === undefined) return null;
      const primary = context.pairing.routes.get(route.backupOf);
      if (!primary) return null;
      const mask = context.maskOf(route) & context.maskOf(primary);
      if (mask === 0n) return null;
      const mine = elementsOf(context.paths(route).flatMap(({ elements }) => elements));
      const shared = [...elementsOf(context.paths(primary).flatMap(({ elements }) => elements)).values()].filter(
        ({ ref }) => mine.has(ref),
      );
      if (shared.length === 0) return null;
      const entry = context.functionOf(primary);
      const is = entry && context.classOf(entry);
      return [
        {
          severity: is?.criticality === 'interlock' || is?.criticality === 'motion-control' ? 'stop' : 'fix',
          message: `${route.id} backs up ${primary.id}, but both hang on ${shared.map(({ kind, ref }) => `${kind} ${ref}`).join(', ')}`,
          ...(entry && is ? { because: lawAndPractice(entry, is) } : {}),
          mask,
          values: [named('backup of', primary.id), ...shared.map(({ kind, ref }) => named(`shared ${kind}`, ref))],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'Both contacts leave by the same connector and hang on the same fuse.',
      documents: backedUpPair({ at: { connector: 'C1', cavity: '2' }, feed: 'F1' }),
      expect: ['route:the-backup'],
    }),
    passing: () => ({
      says: 'The second contact has its own connector and its own fuse.',
      documents: backedUpPair(),
      expect: [],
    }),
  },
};

function elementsOf(elements: readonly PathElement[]): ReadonlyMap<string, PathElement> {
  return new Map(
    elements
      .filter(({ kind, role }) => SHARED_KINDS.has(kind) && role !== 'source' && role !== 'reads')
      .map((element) => [element.ref, element]),
  );
}
