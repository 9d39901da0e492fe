import { functionIdOfEndpoint } from '../../context.ts';
import { REDUNDANT_PAIRS } from '../../pairs.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { bit, flowCase } from '../../examples/signals.ts';
import { interfaceRoute } from '../../examples/frame-case.ts';

/** Steps which look at both halves. */
const COMPARES = new Set(['all-of', 'any-of', 'difference', 'lowest', 'highest']);

export const rule: Rule = {
  id: 'guard/redundant-not-compared',
  severity: 'fix',
  title: 'Both halves of a redundant pair are read, and not compared',
  why: 'Track 1 at 40 %, track 2 at half scale 32 %: 24 % apart, and taking whichever is valid passes it unnoticed.',
  sources: [{ source: 'Computed: 32 / 0.5 = 64 against 40', provenance: 'computed' }, commonPractice()],
  check: {
    route(context, route) {
      if (route.from.length < 2) return null;
      const bears = route.from.map((ref) => {
        const source = context.pairing.find(ref);
        return source ? functionIdOfEndpoint(source) : null;
      });
      const pair = REDUNDANT_PAIRS.find(([first, second]) => bears.includes(first) && bears.includes(second));
      if (!pair || (route.steps ?? []).some(({ do: kind }) => COMPARES.has(kind))) return null;
      return [
        {
          message: `${route.id} reads ${pair.join(' and ')}, and no step of it looks at both at once`,
          mask: context.maskOf(route),
          values: [
            ...pair.map((id) => named('half', id)),
            ...(route.steps ?? []).map(({ do: kind }) => named('step', kind)),
          ],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'The first valid of the two brake contacts is taken.',
      documents: brakes([{ do: 'first-valid' }]),
      expect: ['route:cancel'],
    }),
    passing: () => ({
      says: 'Either of the two cancels.',
      documents: brakes([{ do: 'any-of', when: ['On'], yields: 'On', otherwise: 'Off' }]),
      expect: [],
    }),
  },
};

function brakes(steps: NonNullable<Parameters<typeof interfaceRoute>[0]['steps']>) {
  return flowCase({
    toDonor: [bit('Cancel', 'cruise-cancel')],
    unrouted: ['Cancel'],
    host: {
      messages: [
        {
          id: 'Brakes',
          bus: 'body-can',
          frameId: '0x110',
          idFormat: 'standard',
          length: 1,
          sender: 'cluster',
          readers: ['cluster'],
          cycleMs: 20,
          documents: ['sheet-1'],
          signals: [
            bit('First', 'service-brake-switch-primary', 0),
            bit('Second', 'service-brake-switch-secondary', 1),
          ],
        },
      ],
    },
    routes: [
      interfaceRoute({
        id: 'cancel',
        function: 'cruise-cancel',
        from: ['host:Brakes.First', 'host:Brakes.Second'],
        to: 'donor:ToEngine.Cancel',
        staleAfterMs: 100,
        onLoss: { do: 'substitute', state: 'On' },
        steps,
      }),
    ],
  });
}
