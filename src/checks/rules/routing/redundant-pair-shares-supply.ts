import type { PathElement } from '../../../model/index.ts';
import { REDUNDANT_PAIRS } from '../../pairs.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { pedalCase } from './pedal-examples.ts';

export const rule: Rule = {
  id: 'routing/redundant-pair-shares-supply',
  severity: 'fix',
  title: 'Both halves of a redundant pair hang on one fuse, supply, ground or connector',
  why: 'One blown fuse, shorted sensor supply or parted connector takes both circuits.',
  sources: [commonPractice('separate fuse, connector and return for each half')],
  check: {
    function(context, entry) {
      const pair = REDUNDANT_PAIRS.find(([first]) => first === entry.id);
      if (!pair) return null;
      const drafts: Draft[] = [];
      for (const first of context.routesOf(pair[0])) {
        for (const second of context.routesOf(pair[1])) {
          const mask = context.maskOf(first) & context.maskOf(second);
          if (mask === 0n) continue;
          const known = new Set(
            context.paths(first).flatMap(({ elements }) => elements.filter(supplies).map(({ ref }) => ref)),
          );
          const shared = new Map(
            context
              .paths(second)
              .flatMap(({ elements }) => elements)
              .filter((element) => supplies(element) && known.has(element.ref))
              .map((element) => [element.ref, element]),
          );
          // Two halves with one origin are found by another rule.
          if (shared.size === 0 || first.from.some((ref) => second.from.includes(ref))) continue;
          drafts.push({
            subject: `route:${second.id}`,
            message: `${first.id} and ${second.id} are a redundant pair, and both hang on ${[...shared.values()].map(({ kind, ref }) => `${kind} ${ref}`).join(', ')}`,
            mask,
            values: [
              named('first half', first.id),
              ...[...shared.values()].map(({ kind, ref }) => named(`shared ${kind}`, ref)),
            ],
          });
        }
      }
      return drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'The second track takes its 5 V and its return from the cavities of the first.',
      documents: pedalCase({
        second: {
          electrical: {
            class: 'ratiometric-5v',
            supply: 'V1',
            supplyAt: { connector: 'C1', cavity: '1' },
            returnAt: { connector: 'C1', cavity: '3' },
          },
        },
      }),
      expect: ['route:track-2'],
    }),
    passing: () => ({
      says: 'Each track has its own supply and its own return.',
      documents: pedalCase({}),
      expect: [],
    }),
  },
};

function supplies({ role, kind }: PathElement): boolean {
  return role === 'supplies' && (kind === 'feed' || kind === 'ground' || kind === 'connector');
}
