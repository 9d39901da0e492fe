import { parseRef } from '../../../model/index.ts';
import { NOMINAL_SUPPLY_V } from '../../../wiring/index.ts';
import { rounded } from '../../circuits.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { fitValues } from '../../fits.ts';
import { harnessCase } from '../../examples/harness-case.ts';

/** Least current that keeps a contact without gold clean. Common practice. */
const LEAST_A = 0.001;
const CONTACTS: ReadonlySet<string> = new Set(['switched-battery', 'switched-ground']);

export const rule: Rule = {
  id: 'wire/wetting-current',
  severity: 'look',
  title: 'Current through a contact is too small to keep it clean',
  why: 'A contact without gold needs about a milliampere to break its film: at 0.3 mA it drops out after a year, first on cold mornings.',
  sources: [commonPractice('wetting current of 1 mA and more; 5 to 10 mA for silver')],
  check: {
    fit({ pairing }, pair) {
      const { fit, from, to, receiver, mask } = pair;
      if (!CONTACTS.has(fit.driver) || receiver.pullOhm === undefined) return null;
      const ref = parseRef(from);
      const entry = ref ? pairing.find(from) : null;
      if (entry?.kind !== 'wire') return null;
      const { wire, side } = entry;
      const of = pairing.side(side).modules.get(wire.module);
      if (of?.kind !== 'switch' && of?.kind !== 'relay') return null;
      const volt =
        fit.receiver === 'input-pull-up-12v' || fit.driver === 'switched-battery'
          ? NOMINAL_SUPPLY_V
          : (receiver.pullToV ?? 5);
      const ampere = volt / receiver.pullOhm;
      if (ampere >= LEAST_A) return null;
      return [
        {
          message: `${from} is a contact of ${of.title}, and ${to} passes ${rounded(ampere * 1000)} mA through it (${rounded(volt)} V over ${receiver.pullOhm} Ω); about ${LEAST_A * 1000} mA keep a contact clean`,
          mask,
          values: [
            ...fitValues(pair, []),
            named('current through the contact', rounded(ampere * 1000), 'mA'),
            named('at least', LEAST_A * 1000, 'mA'),
            named('pull', receiver.pullOhm, 'Ohm'),
          ],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: '12 V over 47 kΩ: 0.26 mA through a silver contact.',
      documents: button(47_000),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: '12 V over 2.2 kΩ: 5.5 mA.', documents: button(2200), expect: [] }),
  },
};

function button(pullOhm: number) {
  return harnessCase({
    target: { electrical: { class: 'input-pull-up-12v', activeLevel: 'low', pullOhm, pullToV: 12 } },
  });
}
