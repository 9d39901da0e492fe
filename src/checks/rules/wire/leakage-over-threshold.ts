import type { ConditioningKind } from '../../../wiring/index.ts';
import { rounded } from '../../circuits.ts';
import { named, type Rule } from '../../rule.ts';
import { assumedWords, fitValues, outstanding } from '../../fits.ts';
import { harnessCase } from '../../examples/harness-case.ts';

const BLEED: ReadonlySet<ConditioningKind> = new Set(['pull-down']);

export const rule: Rule = {
  id: 'wire/leakage-over-threshold',
  severity: 'fix',
  title: 'Leakage of an open driver holds the input up',
  why: 'A smart switch leaks when it is off: half a milliampere over 1 kΩ is half a volt and harmless, over 33 kΩ it is 16 V, and the input is on for ever.',
  sources: [
    { source: 'Computed: 0.5 mA × 1 kΩ = 0.5 V; 0.5 mA × 33 kΩ = 16.5 V', provenance: 'computed' },
    { source: 'Common practice: smart switches leak 10 to 500 µA when off', provenance: 'common practice' },
  ],
  check: {
    fit(_context, pair) {
      const lacks = outstanding(pair, BLEED);
      if (lacks.length === 0) return null;
      const { from, to, driver, receiver, mask } = pair;
      const leakageA = driver.leakageA ?? 0;
      return [
        {
          message: `${from} leaks ${rounded(leakageA * 1000)} mA when it is off, and ${to} stays on: it needs a ${lacks.map(({ what }) => what).join('; ')}${assumedWords(pair)}`,
          mask,
          values: [
            ...fitValues(pair),
            named('leakage', rounded(leakageA * 1000), 'mA'),
            ...(receiver.pullOhm === undefined ? [] : [named('pull-down', receiver.pullOhm, 'Ohm')]),
          ],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'Half a milliampere of leakage on a pull-down of 33 kΩ: 16.5 V.',
      documents: smartSwitch(33_000),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'The same leakage on 1 kΩ: 0.5 V.', documents: smartSwitch(1000), expect: [] }),
  },
};

function smartSwitch(pullOhm: number) {
  return harnessCase({
    source: {
      electrical: { class: 'switched-battery', activeLevel: 'high', maxA: 2, leakageA: 0.0005 },
      ground: undefined,
    },
    target: { electrical: { class: 'input-pull-down', activeLevel: 'high', pullOhm } },
  });
}
