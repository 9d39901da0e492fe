import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { stateCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'state/crossed',
  severity: 'stop',
  title: 'State is given as another one that the target has under its own name',
  why: 'Numbers of two tables were taken for each other: 0 is P in one and undefined in the other, and park is shown when reverse is selected.',
  sources: [commonPractice('map states by name, never by number')],
  check: {
    route(context, route) {
      const { stages, target } = context.analysis(route);
      if (target?.kind !== 'state') return null;
      const names = new Set(target.states.map(({ label }) => label));
      const drafts: Draft[] = [];
      for (const { index, step } of stages) {
        if (step.do !== 'states' || index !== stages.length - 1) continue;
        const crossed = Object.entries(step.map).filter(
          ([from, to]) => from !== to && names.has(from) && names.has(to),
        );
        // Reported where what stands under the own name is another state still: a shift, not a deliberate fold.
        const shifted = crossed.filter(([from]) =>
          Object.entries(step.map).some(([other, to]) => to === from && other !== from),
        );
        if (shifted.length === 0) continue;
        drafts.push({
          message: `${route.id}, step ${index + 1} gives ${shifted.map(([from, to]) => `"${from}" as "${to}"`).join(', ')}, though ${route.to} has these states under their own names`,
          mask: context.maskOf(route),
          values: shifted.map(([from, to]) => named(from, to)),
        });
      }
      return drafts.length === 0 ? null : drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'On becomes Off, and Off becomes On.',
      documents: stateCase({ route: { steps: [{ do: 'states', map: { Off: 'On', On: 'Off' } }] } }),
      expect: ['route:the-route'],
    }),
    passing: () => ({
      says: 'Each keeps its name.',
      documents: stateCase({ route: { steps: [{ do: 'states', map: { Off: 'Off', On: 'On' } }] } }),
      expect: [],
    }),
  },
};
