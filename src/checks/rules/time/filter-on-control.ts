import { isMotionOrWorse } from '../../context.ts';
import { removeStep } from '../../step-mends.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { byte, flowCase } from '../../examples/signals.ts';

export const rule: Rule = {
  id: 'time/filter-on-control',
  severity: 'fix',
  title: 'Filter on a value that controls motion',
  why: 'A filter made for a display delays what a controller acts on: eight samples at 20 ms add about 70 ms.',
  sources: [
    { source: 'Computed: (8 − 1)/2 · 20 ms', provenance: 'computed' },
    commonPractice('filter for the eye, not for control'),
  ],
  check: {
    route(context, route) {
      const is = context.classOfRoute(route);
      if (!isMotionOrWorse(is)) return null;
      const drafts: Draft[] = [];
      (route.steps ?? []).forEach((step, index) => {
        if (step.do !== 'smooth' && step.do !== 'delay') return;
        const ms = step.do === 'smooth' ? step.timeConstantMs : step.byMs;
        drafts.push({
          message: `${route.id}, step ${index + 1} (${step.do}, ${ms} ms) delays a value of the class ${is!.criticality}`,
          mask: context.maskOf(route),
          values: [
            named(step.do === 'smooth' ? 'time constant' : 'delay', ms, 'ms'),
            named('criticality', is!.criticality),
          ],
          mend: removeStep(route, index, 'take the filter out'),
        });
      });
      return drafts.length === 0 ? null : drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'Engine speed for stability control is smoothed over 80 ms.',
      documents: smoothed('engine-speed'),
      expect: ['route:speed'],
    }),
    passing: () => ({ says: 'A consumption for the trip display is.', documents: smoothed('fuel-rate'), expect: [] }),
  },
};

function smoothed(functionId: string) {
  const unit = functionId === 'fuel-rate' ? 'L/h' : '{rev}/min';
  return flowCase({
    toHost: [byte('Speed', functionId, unit)],
    route: () => ({ staleAfterMs: 100, steps: [{ do: 'smooth', timeConstantMs: 80 }] }),
  });
}
