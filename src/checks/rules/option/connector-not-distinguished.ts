import type { Connector, Wire } from '../../../model/index.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { wireCase } from '../../examples/wire-case.ts';

export const rule: Rule = {
  id: 'option/connector-not-distinguished',
  severity: 'fix',
  title: 'Connector differs by option, and the wire does not',
  why: 'In the other build the cavity is in another connector, or holds another circuit: the harness is cut for one and fitted to both.',
  sources: [commonPractice('a wire for each variant of a connector')],
  check: {
    route(context, route) {
      const { options } = context.pairing;
      const drafts: Draft[] = [];
      for (const { ref, entry: end } of context.ends(route)) {
        if (end?.kind !== 'wire' || !end.wire.at) continue;
        const connector = context.pairing.side(end.side).connectors.get(end.wire.at.connector);
        if (!connector) continue;
        const mask = context.maskOf(route) & options.maskOf(end.wire.when) & ~options.maskOf(connector.when);
        if (mask === 0n) continue;
        drafts.push({
          message: `${ref} is in connector ${connector.id}, which is not there in ${options.describe(mask).join('; ') || 'any combination'}`,
          mask,
          values: [named('wire', ref), named('connector', connector.id)],
        });
      }
      return drafts.length === 0 ? null : drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'Early vehicles have C1, late ones C1b; the wire knows C1 only.',
      documents: years(undefined),
      expect: ['route:the-route'],
    }),
    passing: () => ({
      says: 'Wire and route are for the early ones, and the late ones are left out.',
      documents: years({ year: ['early'] }),
      expect: [],
    }),
  },
};

function years(when: Wire['when']) {
  const connector = (id: string, year: string): Connector => ({
    id,
    title: `Range switch, ${year}`,
    of: 'range-switch',
    cavities: ['1', '2'],
    when: { year: [year] },
  });
  return wireCase({
    donor: { connectors: [connector('C1', 'early'), connector('C1b', 'late')] },
    source: { when },
    route: { when },
    map: {
      options: [{ id: 'year', choices: ['early', 'late'] }],
      leftOut:
        when === undefined
          ? []
          : [{ signal: 'host:relay-coil', reason: 'late vehicles have a map of their own', when: { year: ['late'] } }],
    },
  });
}
