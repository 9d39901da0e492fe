import { functionIdOfEndpoint } from '../../context.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { byte, flowCase } from '../../examples/signals.ts';
import { interfaceRoute } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'unit/low-range-speed',
  severity: 'fix',
  title: 'Road speed from the gearbox output ignores the transfer-case range',
  why: 'In low range the output shaft turns faster for the same road speed: with a ratio of 2.72, 30 km/h shows as 82.',
  sources: [commonPractice('divide by the transfer-case ratio in low range')],
  check: {
    route(context, route) {
      if (context.functionOf(route)?.id !== 'vehicle-speed') return null;
      const bears = route.from.map((ref) => {
        const source = context.pairing.find(ref);
        return source ? functionIdOfEndpoint(source) : null;
      });
      if (!bears.includes('transmission-output-speed') || bears.includes('transfer-case-range')) return null;
      const fitted = (['host', 'donor'] as const).some((side) =>
        context.bearers(side, 'transfer-case-range').some((bearer) => context.sendersPresent(bearer).length > 0),
      );
      if (!fitted) return null;
      return [
        {
          message: `${route.id} makes road speed of the gearbox output speed, and does not look at transfer-case-range`,
          mask: context.maskOf(route),
          values: [named('source', 'transmission-output-speed'), named('missing source', 'transfer-case-range')],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'Speed is output speed by a factor; the transfer case has a low range.',
      documents: speed(false),
      expect: ['route:speed'],
    }),
    passing: () => ({ says: 'The range chooses between two scalings.', documents: speed(true), expect: [] }),
  },
};

function speed(looks: boolean) {
  const output = byte('Output', 'transmission-output-speed', 'km/h');
  const range = byte('Range', 'transfer-case-range', '', 8, {
    kind: 'state',
    states: { '0': 'high', '1': 'low' },
    range: undefined,
  });
  return flowCase({
    toHost: [byte('Speed', 'vehicle-speed', 'km/h')],
    unrouted: ['Speed'],
    donor: {
      messages: [
        {
          id: 'Gearbox',
          bus: 'drive-can',
          frameId: '0x140',
          idFormat: 'standard',
          length: 8,
          sender: 'engine',
          cycleMs: 20,
          documents: ['sheet-1'],
          signals: [output, range],
        },
      ],
    },
    routes: [
      interfaceRoute({
        id: 'speed',
        function: 'vehicle-speed',
        from: looks ? ['donor:Gearbox.Output', 'donor:Gearbox.Range'] : ['donor:Gearbox.Output'],
        to: 'host:ToCluster.Speed',
        staleAfterMs: 100,
        note: 'output speed over axle ratio and tyre, build sheet 4',
        steps: looks ? [{ do: 'choose-by', selector: 1, cases: { high: { source: 0 }, low: { value: 0 } } }] : [],
      }),
    ],
  });
}
