import { FUNCTIONS } from '../../../model/index.ts';
import { commonPractice, named, read, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'orphan/required-function-unknown',
  severity: 'look',
  title: 'Functions required by law that neither platform names',
  why: 'Whether the pairing keeps them cannot be told while no signal and no wire bears the function. Mark the signals, or leave the function out with a reason.',
  sources: [read('the law entry of each function in the catalogue'), commonPractice()],
  check: {
    map(context) {
      const open = [...FUNCTIONS.values()].filter(
        ({ id, law }) =>
          law === 'required' &&
          context.bearers('host', id).length === 0 &&
          context.bearers('donor', id).length === 0 &&
          context.routesOf(id).length === 0 &&
          context.maskLeftOut(null, id) === 0n,
      );
      if (open.length === 0) return null;
      return [
        {
          message: `cannot tell whether the pairing has ${open.length} functions the law requires: ${open.map(({ id }) => id).join(', ')}. No signal or wire of either platform bears them`,
          values: open.map(({ id, law }) => named(id, law)),
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'Two platforms with nothing but an oil temperature.',
      documents: numberCase(),
      expect: ['map'],
    }),
    passing: () => ({
      says: 'Each of them is left out, with its reason.',
      documents: numberCase({
        map: {
          leftOut: [...FUNCTIONS.values()]
            .filter(({ law }) => law === 'required')
            .map(({ id }) => ({ function: id, reason: 'a bench set-up without road use' })),
        },
      }),
      expect: [],
    }),
  },
};
