import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { interfaceWireCase } from '../../examples/wire-case.ts';
import { removeStep } from '../../step-mends.ts';

/** A quick press of a button lasts about this long. */
const SHORT_PRESS_MS = 80;

export const rule: Rule = {
  id: 'time/debounce-longer-than-pulse',
  severity: 'fix',
  title: 'Debounce is longer than the event it waits for',
  why: 'A press shorter than the debounce never arrives, and an interlock that must react within its tolerable time reacts late.',
  sources: [commonPractice('a quick press lasts about 80 ms; contacts bounce 5–20 ms')],
  check: {
    route(context, route) {
      const drafts: Draft[] = [];
      (route.steps ?? []).forEach((step, index) => {
        if (step.do !== 'debounce') return;
        const momentary = route.from.some((ref) => {
          const source = context.pairing.find(ref);
          return source?.kind === 'wire' && source.wire.electrical.momentary === true;
        });
        const limits: [string, number][] = [];
        if (momentary) limits.push(['a quick press', SHORT_PRESS_MS]);
        const tolerable = context.classOfRoute(route)?.staleAfterMs ?? null;
        if (tolerable !== null) limits.push(['the tolerable reaction time', tolerable]);
        const broken = limits.filter(([, ms]) => step.forMs >= ms).sort((a, b) => a[1] - b[1])[0];
        if (!broken) return;
        drafts.push({
          message: `${route.id}, step ${index + 1} waits ${step.forMs} ms; ${broken[0]} is ${broken[1]} ms`,
          mask: context.maskOf(route),
          values: [named('debounce', step.forMs, 'ms'), named(broken[0], broken[1], 'ms')],
          mend: removeStep(route, index, 'take the debounce out'),
        });
      });
      return drafts.length === 0 ? null : drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'The shift button is debounced for 150 ms.',
      documents: paddle(150),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'It is for 20 ms.', documents: paddle(20), expect: [] }),
  },
};

function paddle(forMs: number) {
  const up = { function: 'manual-shift-up', meaning: { active: 'pressed', inactive: 'released' } } as const;
  return interfaceWireCase({
    source: { ...up, electrical: { class: 'switched-ground', activeLevel: 'low', momentary: true } },
    target: up,
    route: { steps: [{ do: 'debounce', forMs }] },
  });
}
