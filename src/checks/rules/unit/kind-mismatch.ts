import { placeOf } from '../../unit-faults.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'unit/kind-mismatch',
  severity: 'stop',
  title: 'Number, state, text and frame are mixed up',
  why: 'The characters "D " read as a number are gear 17440; a state without numbers has none to show. A step must turn one kind into the other: bands, pick.',
  sources: [
    { source: 'SAE J1939 SPN 163, range as two ASCII characters (transcription)', provenance: 'read' },
    commonPractice(),
  ],
  check: {
    route(context, route) {
      const faults = context
        .analysis(route)
        .faults.filter(({ kind }) => kind === 'kind-mismatch' || kind === 'no-scaling');
      if (faults.length === 0) return null;
      return faults.map((fault) => ({
        message: `${route.id}${placeOf(fault.at)}: ${fault.message}`,
        mask: context.maskOf(route),
        values: fault.kind === 'kind-mismatch' ? [named('needs', fault.needs), named('has', fault.has)] : [],
      }));
    },
  },
  examples: {
    failing: () => ({
      says: 'A range in two ASCII characters is linked to a number.',
      documents: numberCase({
        source: {
          kind: 'text',
          bits: { start: 0, length: 16, order: 'little' },
          offset: 0,
          unit: '',
          range: undefined,
          notAvailable: undefined,
        },
      }),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'A number goes to a number.', documents: numberCase(), expect: [] }),
  },
};
