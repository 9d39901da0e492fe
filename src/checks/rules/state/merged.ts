import { levelOfState } from '../../../model/index.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { stateCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'state/merged',
  severity: 'fix',
  title: 'States which differ for this function become one',
  why: 'Neutral and “between ranges” both shown as N, released and faulty both given as released: the reader can no longer tell what it must.',
  sources: [commonPractice('states that the catalogue tells apart stay apart')],
  check: {
    route(context, route) {
      const { statesMerged } = context.analysis(route);
      if (statesMerged.length === 0) return null;
      const entry = context.functionOf(route);
      const drafts: Draft[] = [];
      for (const { into, from } of statesMerged) {
        const apart = toldApart(entry?.id, entry?.states, from);
        // Without a catalogue to say which states differ, a display that merges is worth a look.
        if (apart === false) continue;
        drafts.push({
          severity: apart === null || entry?.criticality === 'comfort' ? 'look' : 'fix',
          message: `${route.id} gives ${from.map((state) => `"${state}"`).join(' and ')} as one state "${into}"${apart === null ? '; whether they differ for this function the catalogue does not say' : ''}`,
          mask: context.maskOf(route),
          values: [named('into', into), ...from.map((state) => named('from', state))],
        });
      }
      return drafts.length === 0 ? null : drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'The display shows N for neutral and for invalid.',
      documents: range({ P: 'P', N: 'N', invalid: 'N' }),
      expect: ['route:the-route'],
    }),
    passing: () => ({
      says: 'Each state keeps its own.',
      documents: range({ P: 'P', N: 'N', invalid: 'blank' }),
      expect: [],
    }),
  },
};

function toldApart(
  functionId: string | undefined,
  catalogued: readonly string[] | undefined,
  from: readonly string[],
): boolean | null {
  if (catalogued) {
    const known = from.filter((state) => catalogued.some((entry) => entry.toLowerCase() === state.toLowerCase()));
    if (known.length > 1) return true;
  }
  const levels = new Set(from.map((state) => levelOfState(functionId, state, null)));
  if (levels.has('active') && levels.has('inactive')) return true;
  return levels.size === 1 && !levels.has(null) ? false : null;
}

function range(map: Record<string, string>) {
  const states = { '0': 'P', '1': 'N', '2': 'invalid' };
  return stateCase({
    source: {
      id: 'Range',
      states,
      bits: { start: 0, length: 4, order: 'little' },
      function: 'selected-range-display',
      notAvailable: [15],
    },
    target: {
      id: 'Range',
      states: { ...states, '2': 'blank' },
      bits: { start: 0, length: 4, order: 'little' },
      function: 'selected-range-display',
      notAvailable: [15],
    },
    sourceMessage: { cycleMs: 50 },
    targetMessage: { cycleMs: 50 },
    transmit: { cycleMs: 50 },
    route: { steps: [{ do: 'states', map }], staleAfterMs: 250 },
  });
}
