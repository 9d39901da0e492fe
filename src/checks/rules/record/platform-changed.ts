import { platformDigest } from '../../../model/index.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';
import { exampleMap } from '../../examples/documents.ts';

export const rule: Rule = {
  id: 'record/platform-changed',
  severity: 'fix',
  title: 'Map was made against another revision of a platform',
  why: 'A signal moved to another cavity in revision C, and the firmware follows B: the map names the digest of the platform it was drawn from, and that platform has changed.',
  sources: [commonPractice('wire list and translation list of one revision')],
  check: {
    map(context, map) {
      const drafts: Draft[] = [];
      for (const side of [context.pairing.host, context.pairing.donor]) {
        const stated = map[side.name].digest;
        if (stated === undefined) continue;
        const now = platformDigest(side.platform);
        if (now === stated) continue;
        drafts.push({
          message: `the ${side.name} platform ${side.platform.id} is not the one the map was drawn from`,
          values: [named('drawn from', stated.slice(0, 12)), named('now', now.slice(0, 12))],
          mend: {
            title: 'take the present revision for the basis',
            edits: [{ do: 'set', in: 'map', path: [side.name, 'digest'], to: now }],
          },
        });
      }
      return drafts.length === 0 ? null : drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'The digest is that of an older chassis.',
      documents: linked('0'.repeat(64)),
      expect: ['map'],
    }),
    passing: () => ({ says: 'It is that of the chassis at hand.', documents: linked(null), expect: [] }),
  },
};

function linked(digest: string | null) {
  const documents = numberCase();
  return {
    ...documents,
    map: exampleMap({
      ...documents.map,
      host: { platform: 'host.platform.json', digest: digest ?? platformDigest(documents.host) },
    }),
  };
}
