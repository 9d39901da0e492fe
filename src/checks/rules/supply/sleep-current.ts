import { liveIn } from '../../../wiring/index.ts';
import { rounded } from '../../circuits.ts';
import { feedAt } from '../../supplies.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { supplyCase } from '../../examples/harness-case.ts';

/** What may be added to the current of a parked vehicle, in mA. */
const BUDGET_MA = 20;
/** A usual battery, in Ah, of which half may be drawn. */
const BATTERY_AH = 60;

export const rule: Rule = {
  id: 'supply/sleep-current',
  severity: 'look',
  title: 'Added modules draw too much while the vehicle is parked',
  why: '50 mA empty half of a 60 Ah battery in 25 days, 20 mA in 62. A module on a permanent feed must sleep, and somebody must have measured it.',
  sources: [
    { source: 'Computed: 0.5 × 60 Ah / 50 mA = 600 h = 25 days; at 20 mA 62 days', provenance: 'computed' },
    commonPractice('20 mA for what is added'),
  ],
  check: {
    map({ pairing }, map) {
      const drafts: Draft[] = [];
      const asleep: { id: string; ma: number }[] = [];
      for (const owner of map.interfaceModules) {
        const found = feedAt(pairing, owner.feed);
        if (!found || !liveIn(found.feed).includes('off')) continue;
        if (owner.sleepMa !== undefined) asleep.push({ id: owner.id, ma: owner.sleepMa });
        else {
          drafts.push({
            subject: owner.id,
            message: `${owner.title} (${owner.id}) hangs on ${owner.feed}, which is live with the key off, and its sleep current is not stated`,
            mask: pairing.options.maskOf(owner.when),
            values: [named('module', owner.id), named('sleep current', 'not stated')],
          });
        }
      }
      const sumMa = asleep.reduce((sum, { ma }) => sum + ma, 0);
      if (sumMa <= BUDGET_MA) return drafts;
      const days = (BATTERY_AH * 0.5 * 1000) / sumMa / 24;
      const worst = asleep.reduce((most, one) => (one.ma > most.ma ? one : most));
      return [
        ...drafts,
        {
          subject: worst.id,
          message: `${asleep.map(({ id }) => id).join(', ')} draw ${rounded(sumMa)} mA while parked: half of a ${BATTERY_AH} Ah battery in ${Math.round(days)} days; ${BUDGET_MA} mA are usual for what is added`,
          mask: pairing.options.all,
          values: [
            named('sleep current', rounded(sumMa), 'mA'),
            named('usual', BUDGET_MA, 'mA'),
            named('days to half', Math.round(days), 'd'),
          ],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'A module that draws 50 mA asleep.',
      documents: supplyCase({ module: { sleepMa: 50 } }),
      expect: ['xm'],
    }),
    passing: () => ({ says: 'It draws 0.4 mA.', documents: supplyCase({ module: { sleepMa: 0.4 } }), expect: [] }),
  },
};
