import { overlappingSignals } from '../../field-layout.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { numberCase, temperature } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'bus/fields-overlap',
  severity: 'stop',
  title: 'Two fields of a message share bits',
  why: 'Writing one changes the other: one of the two layouts was copied wrongly, or start bits of two conventions were mixed.',
  sources: [
    { source: 'A public implementation that shifts a two-bit field by 5 instead of 6', provenance: 'read' },
    commonPractice(),
  ],
  check: {
    message(context, { message, ref }) {
      const pairs = overlappingSignals(message);
      if (pairs.length === 0) return null;
      const { options } = context.pairing;
      return pairs.map(([first, second]) => ({
        message: `${first.id} and ${second.id} of ${ref} share bits`,
        mask: options.maskOf(first.when) & options.maskOf(second.when),
        values: [first, second].map(({ id, bits }) => named(id, `${bits.start}|${bits.length} ${bits.order}`)),
      }));
    },
  },
  examples: {
    failing: () => ({
      says: 'The second field starts in the last bit of the first.',
      documents: second(7),
      expect: ['donor:FromEngine'],
    }),
    passing: () => ({ says: 'It starts behind it.', documents: second(8), expect: [] }),
  },
};

function second(start: number) {
  return numberCase({
    sourceMessage: {
      signals: [temperature(), temperature({ id: 'Second', bits: { start, length: 8, order: 'little' } })],
    },
  });
}
