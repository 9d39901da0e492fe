import { contactA, FUSE_RULES } from '../../../wiring/index.ts';
import { circuitRef, circuitWords, conductorValues, rounded, TINY } from '../../circuits.ts';
import { named, read, type Rule } from '../../rule.ts';
import { loadCase } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'wire/contact-current',
  severity: 'fix',
  title: 'Contact carries more than it is rated for',
  why: 'The contact governs where it bears less than the conductor: a 1.2 mm contact rated 8 A, 6.4 A with the usual fifth in hand, turns brown under a 12 A fuel pump and then opens.',
  sources: [
    read('FAA AC 43.13-1B para 11-67: the contact rating governs where it is below that of the conductor'),
    { source: 'Computed: 8 A × 0.8 = 6.4 A', provenance: 'computed' },
  ],
  check: {
    harness(_context, plan) {
      return plan.conductors.flatMap((conductor) => {
        const { circuit, currentA, currentBy } = conductor;
        return [circuit.from, circuit.to].flatMap((end) => {
          if ((end.kind !== 'cavity' && end.kind !== 'part') || end.connector === null || end.cavity === null)
            return [];
          const ratedA = contactA(plan.find(end.connector), end.cavity);
          if (ratedA === null || currentBy === 'assumed') return [];
          const deratedA = ratedA * FUSE_RULES.continuousShare;
          if (currentA <= deratedA + TINY) return [];
          const over = currentA > ratedA + TINY;
          return [
            {
              subject: circuitRef(circuit),
              severity: over ? ('fix' as const) : ('look' as const),
              message: `${circuitWords(circuit)} carries ${rounded(currentA)} A through the contact at ${end.key}, rated ${rounded(ratedA)} A${over ? '' : `: above the ${rounded(deratedA)} A that leave a fifth in hand`}`,
              mask: circuit.mask,
              values: [
                ...conductorValues(conductor),
                named('place', end.key),
                named('contact rating', rounded(ratedA), 'A'),
                named('with a fifth in hand', rounded(deratedA), 'A'),
              ],
            },
          ];
        });
      });
    },
  },
  examples: {
    failing: () => ({
      says: 'A 12 A pump through a contact rated 8 A.',
      documents: pump(8),
      expect: ['circuit:101'],
    }),
    passing: () => ({ says: 'Through a contact rated 20 A.', documents: pump(20), expect: [] }),
  },
};

function pump(maxA: number) {
  return loadCase({
    loadA: 12,
    fuseA: 15,
    from: { maxA },
    to: { maxA: 20 },
    segment: { maxC: 60 },
    circuit: { conductor: { size: '2.5mm2', colour: 'RD' } },
  });
}
