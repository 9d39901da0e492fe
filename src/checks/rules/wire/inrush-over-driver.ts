import { rounded } from '../../circuits.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { fitValues } from '../../fits.ts';
import { harnessCase } from '../../examples/harness-case.ts';

const INRUSH = 'inrush current';

export const rule: Rule = {
  id: 'wire/inrush-over-driver',
  severity: 'look',
  title: 'Inrush of the load is above what the driver is rated for',
  why: 'A cold lamp draws eight to ten times its current, a motor at standstill several times: a 21 W lamp runs at 1.75 A and starts at about 15 A. An electronic switch takes that for a short circuit, a contact welds.',
  sources: [
    { source: 'Computed: 21 W / 12 V = 1.75 A; 8 to 10 times that is 14 to 17.5 A', provenance: 'computed' },
    commonPractice('lamp inrush 8 to 10 times, motor stall 3 to 6 times the running current'),
  ],
  check: {
    fit(_context, pair) {
      const { fit, from, to, driver, mask } = pair;
      const inrush = fit.measures.find(({ name }) => name === INRUSH);
      if (!inrush) return null;
      // A driver bears in the rush what it states, else its continuous rating: nothing is known above that.
      const bearsA = driver.inrushA ?? driver.maxA;
      if (bearsA !== undefined && inrush.value <= bearsA) return null;
      return [
        {
          message:
            bearsA === undefined
              ? `${to} draws ${rounded(inrush.value)} A when it starts, and no rating of ${from} is stated`
              : `${to} draws ${rounded(inrush.value)} A when it starts, and ${from} is rated for ${rounded(bearsA)} A${driver.inrushA === undefined ? ' continuous; its peak is not stated' : ' at its peak'}`,
          mask,
          values: [
            ...fitValues(pair, [inrush]),
            named(
              'driver bears',
              bearsA === undefined ? 'not stated' : rounded(bearsA),
              bearsA === undefined ? '' : 'A',
            ),
          ],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'A 21 W lamp of 1.75 A on a contact for 5 A.',
      documents: lamp({}),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'The contact states a peak of 25 A.', documents: lamp({ inrushA: 25 }), expect: [] }),
  },
};

function lamp(more: { inrushA?: number }) {
  return harnessCase({
    source: {
      electrical: { class: 'switched-battery', activeLevel: 'high', maxA: 5, ...more },
      function: undefined,
      ground: undefined,
    },
    target: { electrical: { class: 'lamp', activeLevel: 'high', loadA: 1.75 }, function: undefined },
  });
}
