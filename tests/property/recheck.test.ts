import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { check, findingDigest, recheck, type Run } from '../../src/checks/index.ts';
import { indexSide, pair, type CrossloomMap, type Route } from '../../src/model/index.ts';
import { bigPairing } from '../checks/big-pairing.ts';

const { host, donor, map: start } = bigPairing({ messages: 12, signalsPerMessage: 4, routes: 40, wires: 6 });
const sides = [indexSide('host', host), indexSide('donor', donor)] as const;
const signals = Array.from({ length: 12 }, (_, message) =>
  Array.from({ length: 4 }, (_s, at) => `M${message}.S${at}`),
).flat();

/** One change of a map; routes and transmits are named by their position, so that an edit applies to whatever stands there. */
type Edit =
  | { readonly do: 'route'; readonly at: number; readonly change: Partial<Route> }
  | { readonly do: 'remove-route'; readonly at: number }
  | { readonly do: 'add-route'; readonly route: Partial<Route> }
  | { readonly do: 'transmit'; readonly at: number; readonly change: object }
  | { readonly do: 'remove-transmit'; readonly at: number }
  | { readonly do: 'double-transmit'; readonly at: number }
  | { readonly do: 'leave-out'; readonly signal: string }
  | { readonly do: 'waive'; readonly at: number }
  | { readonly do: 'title'; readonly title: string }
  | { readonly do: 'fate'; readonly fate: 'retained' | 'removed' };

const ref = fc.constantFrom(...signals);
const change = fc.oneof(
  fc.record({ staleAfterMs: fc.constantFrom(10, 100, 5000, undefined) }),
  fc.record({ to: ref.map((name) => `host:${name}`) }),
  fc.record({
    from: fc.array(
      ref.map((name) => `donor:${name}`),
      { minLength: 0, maxLength: 2 },
    ),
  }),
  fc.record({ from: ref.map((name) => [`host:${name}`]), to: ref.map((name) => `donor:${name}`) }),
  fc.record({ carrier: fc.constantFrom('interface' as const, 'bus' as const, 'hard-wire' as const) }),
  // Without a module between, the two buses become one.
  fc.record({ carrier: fc.constant('bus' as const), by: fc.constant(undefined) }),
  fc.record({
    function: fc.constantFrom(
      'torque-reduction-request',
      'engine-torque-actual',
      'remote-start-request',
      'hood-ajar',
      'cruise-resume-accel',
      'service-brake-switch-primary',
      'fuel-pump-enable',
      'accelerator-pedal-position-1',
      'accelerator-pedal-position-2',
      'transfer-case-range',
      'pto-enable',
      undefined,
    ),
  }),
  fc.record({ when: fc.constantFrom<Route['when'][]>({ drivetrain: ['4wd'] }, { year: ['late'] }, undefined) }),
  fc.record({ backupOf: fc.constantFrom('r0', 'r1', 'r7', undefined) }),
  fc.record({ onLoss: fc.constantFrom({ do: 'hold' as const }, { do: 'stop-sending' as const }, undefined) }),
  fc.record({ steps: fc.constantFrom([{ do: 'convert' as const }], [{ do: 'highest' as const }], []) }),
  fc.record({ title: fc.constantFrom('One title', 'Another', undefined) }),
  fc.record({ measured: fc.boolean() }),
) as fc.Arbitrary<Partial<Route>>;
const at = fc.nat({ max: 60 });
const edit: fc.Arbitrary<Edit> = fc.oneof(
  { weight: 6, arbitrary: fc.record({ do: fc.constant('route' as const), at, change }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('remove-route' as const), at }) },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('add-route' as const), route: change }) },
  {
    weight: 2,
    arbitrary: fc.record({
      do: fc.constant('transmit' as const),
      at,
      change: fc.constantFrom(
        { cycleMs: 500 },
        { cycleMs: 5 },
        { cycleMs: 0.5 },
        { send: 'on-change', minGapMs: 1 },
        { send: 'forwarded' },
        { fill: { S0: 3 } },
        { when: { year: ['late'] } },
        { port: 'B' },
      ),
    }),
  },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('remove-transmit' as const), at }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('double-transmit' as const), at }) },
  {
    weight: 1,
    arbitrary: fc.record({ do: fc.constant('leave-out' as const), signal: ref.map((name) => `host:${name}`) }),
  },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('waive' as const), at }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('title' as const), title: fc.string({ maxLength: 5 }) }) },
  {
    weight: 1,
    arbitrary: fc.record({
      do: fc.constant('fate' as const),
      fate: fc.constantFrom('retained' as const, 'removed' as const),
    }),
  },
);

function apply(map: CrossloomMap, run: Run, what: Edit): CrossloomMap {
  const { routes, transmits } = map;
  switch (what.do) {
    case 'route':
      return {
        ...map,
        routes: routes.map((route, index) =>
          index === what.at % routes.length ? { ...route, ...what.change } : route,
        ),
      };
    case 'remove-route':
      return { ...map, routes: routes.filter((_, index) => index !== what.at % routes.length) };
    case 'add-route':
      return {
        ...map,
        routes: [
          ...routes,
          {
            id: `new${routes.length}-${run.findings.length}`,
            from: ['donor:M1.S1'],
            to: 'host:M1.S1',
            carrier: 'interface',
            by: 'xm',
            ...what.route,
          },
        ],
      };
    case 'transmit':
      return {
        ...map,
        transmits: transmits.map((transmit, index) =>
          index === what.at % transmits.length ? { ...transmit, ...what.change } : transmit,
        ),
      };
    case 'remove-transmit':
      return {
        ...map,
        transmits: transmits.filter((_, index) => transmits.length < 2 || index !== what.at % transmits.length),
      };
    case 'double-transmit':
      return { ...map, transmits: [...transmits, { ...transmits[what.at % transmits.length]! }] };
    case 'leave-out':
      return { ...map, leftOut: [...(map.leftOut ?? []), { signal: what.signal, reason: 'not needed' }] };
    case 'waive': {
      const finding = run.findings[what.at % Math.max(1, run.findings.length)];
      if (!finding) return map;
      const waiver = {
        rule: finding.rule,
        subject: finding.subject,
        answers: findingDigest(finding),
        reason: 'r',
        by: 'A',
        secondBy: 'B',
        on: '2026-01-31',
      };
      return { ...map, waivers: [...(map.waivers ?? []), waiver] };
    }
    case 'title':
      return { ...map, title: what.title };
    case 'fate':
      return { ...map, fates: { ...map.fates, 'host:old-ecm': what.fate } };
  }
}

describe('re-check', () => {
  it('finds after any edits what a full check finds', () => {
    fc.assert(
      fc.property(fc.array(edit, { minLength: 1, maxLength: 6 }), (edits) => {
        let map = start;
        let run = check(pair(map, ...sides));
        for (const one of edits) {
          map = apply(map, run, one);
          const pairing = pair(map, ...sides);
          run = recheck(run, pairing);
          const full = check(pairing);
          const text = (of: Run) =>
            of.findings.map(({ rule, severity, subject, message, options, waived }) => ({
              rule,
              severity,
              subject,
              message,
              options,
              waived,
            }));
          expect(text(run)).toEqual(text(full));
          expect(run.counts).toEqual(full.counts);
        }
      }),
      { numRuns: 150 },
    );
  }, 180_000);
});
