import { lawAndPractice } from '../../law.ts';
import { commonPractice, named, read, type Rule } from '../../rule.ts';
import { wireCase } from '../../examples/wire-case.ts';

export const rule: Rule = {
  id: 'routing/crash-cut-missing',
  severity: 'stop',
  title: 'Fuel pump is commanded, and no crash cut-off reaches it',
  why: 'A pump that goes on after a crash spills fuel; the cut-off must work with the bus destroyed.',
  sources: [read('49 CFR 571.301 (agency letter 6319)'), commonPractice('pump relay fed through the crash contact')],
  check: {
    function(context, entry) {
      if (entry.id !== 'fuel-pump-enable') return null;
      const cut = context.maskOfFunction('crash-fuel-cutoff') | context.maskLeftOut(null, 'crash-fuel-cutoff');
      return context.routesOf(entry.id).flatMap((route) => {
        // A crash contact in series counts: a source or a part of the route that bears the function.
        const inSeries = [...route.from, ...(route.via ?? []).map((id) => context.part(id)?.coilBy ?? '')].some(
          (ref) => {
            const source = context.pairing.find(ref);
            return source?.kind === 'wire' && source.wire.function === 'crash-fuel-cutoff';
          },
        );
        const mask = inSeries ? 0n : context.maskOf(route) & ~cut;
        if (mask === 0n) return [];
        return [
          {
            subject: `route:${route.id}`,
            message: `${route.id} enables the fuel pump, and no route carries the crash cut-off (function crash-fuel-cutoff)`,
            because: lawAndPractice(entry, context.classOf(entry)),
            mask,
            values: [named('fuel pump route', route.id), named('missing', 'crash-fuel-cutoff')],
          },
        ];
      });
    },
  },
  examples: {
    failing: () => ({
      says: 'The engine controller drives the pump relay of the chassis; the inertia switch is left open-circuit.',
      documents: pump([]),
      expect: ['route:the-route'],
    }),
    passing: () => ({
      says: 'The pump relay is fed through a relay whose coil hangs on the inertia switch.',
      documents: pump(['K2']),
      expect: [],
    }),
  },
};

function pump(via: readonly string[]) {
  const meaning = { active: 'run', inactive: 'off' };
  return wireCase({
    source: { id: 'pump-command', title: 'Pump command', module: 'engine', function: 'fuel-pump-enable', meaning },
    target: { id: 'pump-relay', title: 'Pump relay coil', function: 'fuel-pump-enable', meaning },
    route: { via: [...via] },
    hostWires: [
      {
        id: 'inertia',
        title: 'Inertia switch',
        module: 'inertia-switch',
        direction: 'out',
        electrical: { class: 'switched-ground', contact: 'normally-closed' },
        meaning: { active: 'crash', inactive: 'no crash' },
        function: 'crash-fuel-cutoff',
        documents: ['sheet-1'],
      },
    ],
    host: { modules: [{ id: 'inertia-switch', title: 'Inertia switch', kind: 'switch' }] },
    map: {
      harness: {
        connectors: [],
        nodes: [],
        segments: [],
        circuits: [],
        parts: [{ id: 'K2', title: 'Crash relay', kind: 'relay', coilBy: 'host:inertia', contact: 'normally-open' }],
      },
    },
  });
}
