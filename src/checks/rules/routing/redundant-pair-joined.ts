import { lawAndPractice } from '../../law.ts';
import { REDUNDANT_PAIRS } from '../../pairs.ts';
import { commonPractice, named, read, type Draft, type Rule } from '../../rule.ts';
import { pedalCase } from './pedal-examples.ts';

const JOINED_KINDS = new Set(['wire', 'splice', 'relay', 'fuse', 'interface']);

export const rule: Rule = {
  id: 'routing/redundant-pair-joined',
  severity: 'stop',
  title: 'Both halves of a redundant pair come from one wire or through one part',
  why: 'Two inputs of one origin agree whatever happens to it: the comparison of the controller can find nothing.',
  sources: [read('ISO 26262-9, dependent failures (summary)'), commonPractice()],
  check: {
    function(context, entry) {
      const pair = REDUNDANT_PAIRS.find(([first]) => first === entry.id);
      if (!pair) return null;
      const drafts: Draft[] = [];
      for (const first of context.routesOf(pair[0])) {
        for (const second of context.routesOf(pair[1])) {
          const mask = context.maskOf(first) & context.maskOf(second);
          if (mask === 0n) continue;
          const origins = new Set(
            context
              .paths(first)
              .flatMap(({ elements }) => elements.filter(({ kind }) => JOINED_KINDS.has(kind)).map(({ ref }) => ref)),
          );
          const joined = new Set([
            ...first.from.filter((ref) => second.from.includes(ref)),
            ...context
              .paths(second)
              .flatMap(({ elements }) =>
                elements.filter(({ kind, ref }) => JOINED_KINDS.has(kind) && origins.has(ref)).map(({ ref }) => ref),
              ),
          ]);
          if (joined.size === 0) continue;
          drafts.push({
            subject: `route:${second.id}`,
            message: `${first.id} and ${second.id} carry the two halves of one redundant pair, and both hang on ${[...joined].join(', ')}`,
            because: lawAndPractice(entry, context.classOf(entry)),
            mask,
            values: [
              named('first half', first.id),
              named('second half', second.id),
              ...[...joined].map((ref) => named('shared', ref)),
            ],
          });
        }
      }
      return drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'Both inputs of the engine controller hang on the first pedal track.',
      documents: pedalCase({ joined: true }),
      expect: ['route:track-2'],
      alsoStops: ['unit/hard-wire-scale-differs'],
    }),
    passing: () => ({ says: 'Each input has the track made for it.', documents: pedalCase({}), expect: [] }),
  },
};
