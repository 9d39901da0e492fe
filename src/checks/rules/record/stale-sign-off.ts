import { signOffDigest } from '../../../model/index.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';
import { exampleMap } from '../../examples/documents.ts';

export const rule: Rule = {
  id: 'record/stale-sign-off',
  severity: 'fix',
  title: 'Sign-off is older than the last change',
  why: 'What was signed is not what stands there: the map or one of the platforms has changed since.',
  sources: [commonPractice()],
  check: {
    map(context, map) {
      if (!map.signOffs || map.signOffs.length === 0) return null;
      const { host, donor } = context.pairing;
      const now = signOffDigest(map, host.platform, donor.platform);
      return map.signOffs
        .map((signOff, at) => ({ signOff, at }))
        .filter(({ signOff }) => signOff.digest !== now)
        .map(({ signOff, at }) => ({
          message: `${signOff.by} (${signOff.role}) signed on ${signOff.on}; the map or a platform has changed since`,
          values: [
            named('by', signOff.by),
            named('on', signOff.on),
            named('signed', signOff.digest.slice(0, 12)),
            named('now', now.slice(0, 12)),
          ],
          mend: {
            title: 'take the sign-off out',
            edits: [{ do: 'remove' as const, in: 'map' as const, path: ['signOffs', { at }] }],
          },
        }));
    },
  },
  examples: {
    failing: () => ({ says: 'A title was changed after signing.', documents: signed(true), expect: ['map'] }),
    passing: () => ({ says: 'Nothing was.', documents: signed(false), expect: [] }),
  },
};

function signed(changed: boolean) {
  const documents = numberCase();
  const digest = signOffDigest(documents.map, documents.host, documents.donor);
  return {
    ...documents,
    map: exampleMap({
      ...documents.map,
      ...(changed ? { title: 'Another title' } : {}),
      signOffs: [{ by: 'Second Person', role: 'reviewer', on: '2026-01-31', digest }],
    }),
  };
}
