import { isMotionOrWorse } from '../../context.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { stateCase } from '../../examples/frame-case.ts';

const NO_VALUE = /\b(error|fault|faulty|invalid|not[ -]?available|sna|n\/?a|undefined|reserved|unknown)\b/i;

export const rule: Rule = {
  id: 'state/error-as-value',
  severity: 'stop',
  title: 'Error or not-available state is given as an ordinary state',
  why: 'In a two-bit field 2 is error and 3 not available: given as “pressed”, a failed sender presses the brake for ever.',
  sources: [
    { source: 'SAE J1939 two-bit coding: 0 off, 1 on, 2 error, 3 not available (transcription)', provenance: 'read' },
    commonPractice(),
  ],
  check: {
    route(context, route) {
      const { stages, sources } = context.analysis(route);
      const drafts: Draft[] = [];
      for (const { index, step } of stages) {
        if (step.do !== 'states') continue;
        const listed = Object.entries(step.map).filter(([from, to]) => NO_VALUE.test(from) && !NO_VALUE.test(to));
        const swept =
          step.otherwise === undefined || NO_VALUE.test(step.otherwise)
            ? []
            : sources
                .flatMap((source) => (source?.kind === 'state' ? source.states : []))
                .filter(({ label }) => NO_VALUE.test(label) && !Object.hasOwn(step.map, label))
                .map(({ label }): [string, string] => [label, step.otherwise!]);
        const wrong = [...listed, ...swept];
        if (wrong.length === 0) continue;
        drafts.push({
          severity: isMotionOrWorse(context.classOfRoute(route)) ? 'stop' : 'fix',
          message: `${route.id}, step ${index + 1} gives ${wrong.map(([from, to]) => `"${from}" as "${to}"`).join(', ')}; declare the raw value as not available or error in the platform, and the loss behaviour answers for it`,
          mask: context.maskOf(route),
          values: wrong.map(([from, to]) => named(from, to)),
        });
      }
      // A one-bit reader behind a two-bit source whose codes 2 and 3 the platform does not name.
      for (const { ref, entry: source } of context.sources(route)) {
        if (source?.kind !== 'signal' || source.signal.bits.length !== 2) continue;
        const { states, notAvailable, error } = source.signal;
        if (!states || notAvailable || error) continue;
        const unnamed = ['2', '3'].filter((raw) => !Object.hasOwn(states, raw));
        if (unnamed.length < 2 || !Object.hasOwn(states, '0') || !Object.hasOwn(states, '1')) continue;
        drafts.push({
          severity: 'look',
          message: `${ref} has two bits and names only 0 and 1: what 2 and 3 mean cannot be told (often error and not available)`,
          mask: context.maskOf(route),
          values: unnamed.map((raw) => named('raw value', raw)),
        });
      }
      return drafts.length === 0 ? null : drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'Error and not available are given as On.',
      documents: twoBits('On'),
      expect: ['route:the-route'],
    }),
    passing: () => ({
      says: 'The platform declares 2 and 3 as codes.',
      documents: stateCase({ source: { error: [2] } }),
      expect: [],
    }),
  },
};

function twoBits(to: string) {
  return stateCase({
    source: { states: { '0': 'Off', '1': 'On', '2': 'Error', '3': 'Not available' }, notAvailable: undefined },
    route: { steps: [{ do: 'states', map: { Off: 'Off', On: 'On' }, otherwise: to }] },
  });
}
