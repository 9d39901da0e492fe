import { samePerson } from '../../finding.ts';
import { isMotionOrWorse } from '../../context.ts';
import { commonPractice, fromMemory, named, type Rule } from '../../rule.ts';
import { guardedCase } from '../../examples/guarded.ts';
import { exampleMap } from '../../examples/documents.ts';

export const rule: Rule = {
  id: 'record/no-second-review',
  severity: 'fix',
  title: 'Routes that move the vehicle, signed by nobody but the author',
  why: 'Who drew a route overlooks in it what he overlooked in drawing it.',
  sources: [fromMemory('ISO 26262-2: confirmation review by another person (the idea)'), commonPractice()],
  check: {
    map(context, map) {
      // A map that carries no sign-off at all is being drafted: that is asked for once somebody signs.
      if (!map.signOffs || map.signOffs.length === 0) return null;
      const critical = map.routes.filter((route) => isMotionOrWorse(context.classOfRoute(route)));
      if (critical.length === 0) return null;
      const { author } = map;
      if (author === undefined) {
        return [
          {
            message: `the map names no author: whether a second person signed cannot be told`,
            values: [named('author', 'not stated')],
            severity: 'look',
          },
        ];
      }
      if (map.signOffs.some(({ by }) => !samePerson(by, author))) return null;
      return [
        {
          message: `${critical.length} routes move the vehicle or hold an interlock, and only ${author}, the author, has signed`,
          values: [named('author', author), named('critical routes', critical.length)],
        },
      ];
    },
  },
  examples: {
    failing: () => ({ says: 'The author signs alone.', documents: signedBy('First Person'), expect: ['map'] }),
    passing: () => ({ says: 'A second person signs.', documents: signedBy('Second Person'), expect: [] }),
  },
};

function signedBy(by: string) {
  const documents = guardedCase();
  return {
    ...documents,
    map: exampleMap({
      ...documents.map,
      author: 'First Person',
      signOffs: [{ by, role: 'reviewer', on: '2026-01-31', digest: 'unchecked here' }],
    }),
  };
}
