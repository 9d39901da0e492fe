import { circuitRef, circuitWords } from '../../circuits.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { harnessCase } from '../../examples/harness-case.ts';

/** How a way or a place on the harness is told missing: without any harness that is one thing to say, not one a conductor. */
const GEOMETRY = /^(a node of the harness|a way from) /;

export const rule: Rule = {
  id: 'wire/not-known',
  severity: 'look',
  title: 'Conductor cannot be judged or made: something about it is not known',
  why: 'A conductor without both of its places, its way and its current has no length, no size and no fuse that anybody could check: what is open is listed, not guessed.',
  sources: [commonPractice('open points of a wiring list')],
  check: {
    harness({ pairing }, plan) {
      const hasGeometry = plan.graph.nodes.size > 0;
      const drafts = plan.conductors.flatMap(({ circuit, missing }): Draft[] => {
        const open = hasGeometry ? missing : missing.filter((one) => !GEOMETRY.test(one));
        if (open.length === 0) return [];
        return [
          {
            subject: circuitRef(circuit),
            message: `${circuitWords(circuit)} lacks ${open.join('; ')}`,
            mask: circuit.mask,
            values: [named('conductor', circuit.id), ...open.map((one) => named('lacks', one))],
          },
        ];
      });
      if (hasGeometry || plan.conductors.length === 0) return drafts;
      return [
        ...drafts,
        {
          subject: 'map',
          message: `no harness is drawn for ${plan.conductors.length} conductors: their lengths, drops and bundles are not known`,
          mask: pairing.options.all,
          values: [named('conductors', plan.conductors.length)],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'Nobody has said which cavity the input lies in.',
      documents: harnessCase({ target: { at: undefined } }),
      expect: ['circuit:101'],
    }),
    passing: () => ({ says: 'Both places lie on the harness.', documents: harnessCase(), expect: [] }),
  },
};
