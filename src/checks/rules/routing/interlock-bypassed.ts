import { lawAndPractice } from '../../law.ts';
import { commonPractice, named, read, type Draft, type Rule } from '../../rule.ts';
import { switchWire, wireCase } from '../../examples/wire-case.ts';

/** Steps which let one source stand in for another. */
const GOES_ROUND = new Set(['any-of', 'first-valid', 'choose-by', 'highest', 'sum']);
const INTERLOCKS = new Set([
  'park-neutral-starter-interlock',
  'clutch-pedal-starter-interlock',
  'starter-relay-command',
  'brake-to-shift-interlock',
  'key-removal-park-interlock',
  'transfer-case-neutral-confirm',
  'pto-enable',
  'crash-fuel-cutoff',
]);

export const rule: Rule = {
  id: 'routing/interlock-bypassed',
  severity: 'stop',
  title: 'There is a way round an interlock',
  why: 'An override button, a second relay or another signal that can stand in for the contact takes the inhibit away.',
  sources: [
    read(
      'Agency interpretation letter nht88-4.51 on 49 CFR 571.102: a switch that bypasses the neutral switch does not meet the standard',
    ),
    commonPractice('contacts of an interlock in series, none in parallel'),
  ],
  check: {
    route(context, route) {
      const entry = context.functionOf(route);
      if (!entry || !INTERLOCKS.has(entry.id)) return null;
      const drafts: Draft[] = [];
      const because = lawAndPractice(entry, context.classOf(entry));
      const round = (route.steps ?? []).find((step) => GOES_ROUND.has(step.do));
      if (round && new Set(route.from).size > 1) {
        drafts.push({
          message: `${route.id} lets any of ${route.from.join(', ')} give ${entry.title} ("${round.do}"): one of them is enough`,
          because,
          mask: context.maskOf(route),
          values: [
            named('function', entry.id),
            named('step', round.do),
            ...route.from.map((ref) => named('source', ref)),
          ],
        });
      }
      // Two conductors on one reader are in parallel: either is enough.
      for (const other of context.pairing.routesTo.get(route.to) ?? []) {
        if (other === route) break;
        const mask = context.maskOf(route) & context.maskOf(other);
        if (mask === 0n) continue;
        drafts.push({
          message: `${other.id} and ${route.id} lie in parallel on ${route.to}: either of them is enough to give ${entry.title}`,
          because,
          mask,
          values: [named('function', entry.id), named('one way', other.id), named('other way', route.id)],
        });
      }
      return drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'An override button lies in parallel with the park/neutral contact.',
      documents: wireCase({
        donor: { modules: [{ id: 'button', title: 'Override button', kind: 'switch' }] },
        donorWires: [
          switchWire({
            id: 'override',
            title: 'Override',
            module: 'button',
            function: undefined,
            at: { connector: 'C3', cavity: '1' },
          }),
        ],
        routes: [
          { id: 'override', from: ['donor:override'], to: 'host:relay-coil', carrier: 'hard-wire', measured: true },
        ],
      }),
      expect: ['route:override'],
      alsoStops: ['routing/two-drivers'],
    }),
    passing: () => ({ says: 'Only the contact reaches the relay.', documents: wireCase(), expect: [] }),
  },
};
