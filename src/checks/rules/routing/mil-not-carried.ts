import { lawAndPractice } from '../../law.ts';
import { maskServed } from '../../served.ts';
import { commonPractice, named, read, type Rule } from '../../rule.ts';
import { bit, flowCase } from '../../examples/signals.ts';

export const rule: Rule = {
  id: 'routing/mil-not-carried',
  severity: 'stop',
  title: 'Request for the malfunction indicator lamp is not carried',
  why: 'The lamp must work with the certified strategy of the powertrain; a map that leaves it dark hides every emission fault.',
  sources: [read('40 CFR 86.1806'), read('42 USC 7522(a)(3)'), commonPractice()],
  check: {
    function(context, entry) {
      if (entry.id !== 'mil-request') return null;
      const asking = context
        .bearers('donor', entry.id)
        .filter((bearer) => context.sendersPresent(bearer).length > 0 && context.readersPresent(bearer).length === 0);
      if (asking.length === 0) return null;
      const mask = context.pairing.options.all & ~maskServed(context, entry.id, 'host');
      if (mask === 0n) return null;
      return [
        {
          message: `the powertrain asks for the lamp (${asking.map(({ ref }) => ref).join(', ')}), and nothing carries it to the chassis`,
          because: lawAndPractice(entry, context.classOf(entry)),
          mask,
          values: asking.map(({ ref }) => named('request', ref)),
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'The powertrain asks for the lamp; no route carries it.',
      documents: flowCase({ toHost: [bit('Mil', 'mil-request')], unrouted: ['Mil'] }),
      expect: ['function:mil-request'],
      alsoStops: ['orphan/need-without-route', 'orphan/required-function-missing'],
    }),
    passing: () => ({
      says: 'The request is carried.',
      documents: flowCase({ toHost: [bit('Mil', 'mil-request')] }),
      expect: [],
    }),
  },
};
