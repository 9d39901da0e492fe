import { rounded } from '../../circuits.ts';
import { named, read, type Rule } from '../../rule.ts';
import { harnessCase } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'wire/bundle-too-large',
  severity: 'fix',
  title: 'Bundle is too large for its pass-through',
  why: 'A bundle that is pressed through a hole chafes on its edge, and the grommet does not seal.',
  sources: [
    read('Bundle diameter 1.2·√(Σd²): a figure of public harness guides'),
    read('FAA AC 43.13-1B para 11-249: the inside of a conduit about 25 % wider than the bundle'),
  ],
  check: {
    harness(_context, plan) {
      return plan.segments().flatMap((row) => {
        const { segment, coveredMm, bundleMm, holeMm, circuits, covering } = row;
        if (row.passes !== false || holeMm === null) return [];
        return [
          {
            subject: `segment:${segment}`,
            message: `${segment} holds ${circuits.length} conductors: ${rounded(bundleMm)} mm, ${rounded(coveredMm)} mm over its ${covering ?? 'covering (none stated)'}; the hole is ${rounded(holeMm)} mm`,
            values: [
              named('segment', segment),
              named('conductors', circuits.length),
              named('bundle', rounded(bundleMm), 'mm'),
              named('over the covering', rounded(coveredMm), 'mm'),
              named('hole', rounded(holeMm), 'mm'),
            ],
          },
        ];
      });
    },
  },
  examples: {
    failing: () => ({
      says: 'A conductor of 1.6 mm in a convoluted tube through a hole of 4 mm.',
      documents: hole(4),
      expect: ['segment:s2'],
    }),
    passing: () => ({ says: 'Through a hole of 20 mm.', documents: hole(20), expect: [] }),
  },
};

function hole(holeMm: number) {
  return harnessCase({
    segment: { to: 'p1' },
    harness: {
      connectors: [],
      circuits: [],
      nodes: [{ id: 'p1', kind: 'pass-through', holeMm }],
      segments: [{ id: 's2', from: 'p1', to: 'n1', lengthM: 1, maxC: 85, covering: 'convoluted tube' }],
    },
  });
}
