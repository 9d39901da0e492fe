import { setTransmit } from '../../mends.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'time/sent-too-fast',
  severity: 'look',
  title: 'Interface module floods the bus',
  why: 'A frame sent much oftener than the original, or on every change without a least gap, takes bus time from others.',
  sources: [commonPractice('cadence of the original; a least gap for events')],
  check: {
    transmit(context, transmit) {
      const entry = context.pairing.find(transmit.message);
      if (entry?.kind !== 'message') return null;
      const mask = context.pairing.options.maskOf(transmit.when);
      const onChange = transmit.send === 'on-change' || transmit.send === 'cyclic-and-on-change';
      if (onChange && transmit.minGapMs === undefined) {
        return [
          {
            message: `${transmit.message} is sent on change without a least gap ("minGapMs"): a noisy source floods the bus`,
            mask,
            values: [named('sent', transmit.send!)],
            mend: setTransmit(transmit, ['minGapMs'], 20, 'set a least gap of 20 ms'),
          },
        ];
      }
      const original = entry.message.cycleMs;
      if (original === undefined || transmit.cycleMs === undefined || transmit.cycleMs * 2 > original) return null;
      return [
        {
          message: `${transmit.message} is sent every ${transmit.cycleMs} ms; the original has ${original} ms`,
          mask,
          values: [named('sent every', transmit.cycleMs, 'ms'), named('original cycle', original, 'ms')],
          mend: setTransmit(transmit, ['cycleMs'], original, `send it every ${original} ms`),
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'A temperature of 100 ms is sent every 10 ms.',
      documents: numberCase({ transmit: { cycleMs: 10 } }),
      expect: ['transmit:host:ToCluster'],
    }),
    passing: () => ({ says: 'It is sent as the original was.', documents: numberCase(), expect: [] }),
  },
};
