import { rawRange } from '../../../can/index.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { mendBy } from '../../mends.ts';
import { numberCase, temperature } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'bus/fill-outside-field',
  severity: 'fix',
  title: 'Fill value does not fit its field, or is overwritten by a route',
  why: 'A raw value beyond the bits cannot be sent; a field that a route writes as well has two owners.',
  sources: [commonPractice()],
  check: {
    transmit(context, transmit) {
      const entry = context.pairing.find(transmit.message);
      if (entry?.kind !== 'message' || transmit.fill === undefined) return null;
      const all = context.pairing.options.maskOf(transmit.when);
      const drafts: Draft[] = [];
      for (const [id, raw] of Object.entries(transmit.fill)) {
        const signal = entry.message.signals.find((candidate) => candidate.id === id);
        if (!signal) continue;
        const mend = mendBy('take the fill value out', {
          do: 'remove',
          in: 'map',
          path: ['transmits', { key: 'message', is: transmit.message }, 'fill', id],
        });
        if (signal.number !== 'float32' && signal.number !== 'float64') {
          const { lo, hi } = rawRange(signal.number, signal.bits.length);
          const value = BigInt(raw);
          if (value < lo || value > hi) {
            drafts.push({
              message: `the fill value ${raw} of ${transmit.message}.${id} does not fit ${signal.bits.length} bits ${signal.number}`,
              mask: all,
              values: [named('raw value', raw), named('bits', signal.bits.length)],
              mend,
            });
          }
        }
        const written = (context.pairing.routesTo.get(`${transmit.message}.${id}`) ?? []).reduce(
          (mask, route) => mask | context.maskOf(route),
          0n,
        );
        // Filled where no route writes it is what fills are for; filled where one always does is a leftover.
        if (written === context.pairing.options.all && written !== 0n) {
          drafts.push({
            severity: 'look',
            message: `${transmit.message}.${id} is filled, and a route writes it in every combination`,
            mask: all,
            values: [named('raw value', raw)],
            mend,
          });
        }
      }
      return drafts.length === 0 ? null : drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'A one-byte field is filled with 300.',
      documents: filled(300),
      expect: ['transmit:host:ToCluster'],
    }),
    passing: () => ({ says: 'It is filled with 255.', documents: filled(255), expect: [] }),
  },
};

function filled(raw: number) {
  return numberCase({
    targetMessage: {
      signals: [temperature(), temperature({ id: 'Second', bits: { start: 8, length: 8, order: 'little' } })],
    },
    transmit: { fill: { Second: raw } },
  });
}
