import { cavityClaims, connectorSubject, moveToFree } from '../../cavity-claims.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { harnessCase } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'wire/cavity-not-on-connector',
  severity: 'stop',
  title: 'Cavity is not on the connector',
  why: 'Cavity 61 of a 60-way housing cannot be populated: the number, the housing or the drawing is wrong, and the circuit is somewhere else.',
  sources: [commonPractice('cavities are numbered as moulded on the housing')],
  check: {
    harness({ pairing }, plan) {
      return cavityClaims(pairing).all.flatMap((claim) => {
        const connector = plan.find(claim.connector);
        // A connector whose cavities nobody has listed is told by wire/connector-unknown.
        if (!connector || connector.cavities.length === 0 || connector.cavities.includes(claim.cavity)) return [];
        return [
          {
            subject: connectorSubject(claim.connector),
            message: `${claim.what} is in cavity ${claim.cavity} of ${claim.connector} (${connector.title}), which has ${connector.cavities.length} cavities: ${listed(connector.cavities)}`,
            mask: claim.mask,
            values: [
              named('circuit', claim.what),
              named('cavity', claim.cavity),
              named('cavities', connector.cavities.length),
            ],
            mend: moveToFree(pairing, claim, connector),
          },
        ];
      });
    },
  },
  examples: {
    failing: () => ({
      says: 'Cavity 5 of a four-way housing.',
      documents: harnessCase({ target: { at: { connector: 'C1', cavity: '5' } } }),
      expect: ['connector:donor:C1'],
    }),
    passing: () => ({ says: 'Cavity 1.', documents: harnessCase(), expect: [] }),
  },
};

function listed(cavities: readonly string[]): string {
  return cavities.length <= 8 ? cavities.join(', ') : `${cavities[0]} to ${cavities.at(-1)}`;
}
