import { fromMemory, named, commonPractice, type Rule } from '../../rule.ts';
import { fitValues } from '../../fits.ts';
import { harnessCase } from '../../examples/harness-case.ts';

const COILS: ReadonlySet<string> = new Set(['coil-to-battery', 'coil-to-ground']);

export const rule: Rule = {
  id: 'wire/coil-not-suppressed',
  severity: 'fix',
  title: 'Coil has no suppression, or nobody says that it has',
  why: 'A coil that is switched off answers with a hundred volts of the other sign, which resets modules and wears out the driver. A diode across it takes that away and lets the coil release about 10 ms later; 680 Ω do it sooner.',
  sources: [
    fromMemory('ISO 7637-2 pulse 1: disconnection of an inductive load'),
    commonPractice('diode or 680 Ω across a coil'),
  ],
  check: {
    fit(_context, pair) {
      const { fit, from, to, receiver, mask, provided } = pair;
      if (!COILS.has(fit.receiver) || receiver.suppressed === true || provided.includes('suppression')) return null;
      const stated = receiver.suppressed === false;
      return [
        {
          severity: stated ? ('fix' as const) : ('look' as const),
          message: stated
            ? `the coil ${to}, driven by ${from}, has no suppression: add a diode across it, cathode at its positive end, or 680 Ω`
            : `nothing says whether the coil ${to}, driven by ${from}, has suppression across it`,
          mask,
          values: [
            ...fitValues(pair, []),
            named('suppressed', receiver.suppressed === undefined ? 'not stated' : String(receiver.suppressed)),
          ],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'A relay without anything across its coil.',
      documents: coil(false),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'A relay with a resistor across its coil.', documents: coil(true), expect: [] }),
  },
};

function coil(suppressed: boolean) {
  return harnessCase({
    source: { electrical: { class: 'switched-ground', activeLevel: 'low', maxA: 1 }, function: undefined },
    target: {
      electrical: { class: 'coil-to-battery', activeLevel: 'low', loadA: 0.15, suppressed },
      function: undefined,
    },
  });
}
