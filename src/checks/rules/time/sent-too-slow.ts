import { setTransmit } from '../../mends.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'time/sent-too-slow',
  severity: 'fix',
  title: 'Message is sent slower than its reader expects',
  why: 'The reader counts missing frames: at its time-out it sets a lost-communication code and goes to its failure mode.',
  sources: [
    { source: 'SAE J1939 ET1: 1 s (transcription)', provenance: 'read' },
    commonPractice('send as often as the original did'),
  ],
  check: {
    transmit(context, transmit) {
      const entry = context.pairing.find(transmit.message);
      if (entry?.kind !== 'message' || transmit.send === 'on-change' || transmit.send === 'forwarded') return null;
      const { cycleMs, staleAfterMs } = entry.message;
      const mask = context.pairing.options.maskOf(transmit.when);
      if (transmit.cycleMs === undefined) {
        if (entry.message.send === 'on-change' || entry.message.send === 'on-request') return null;
        return [
          {
            message: `${transmit.message} is sent without a cycle time${cycleMs === undefined ? '' : `; the original has ${cycleMs} ms`}`,
            mask,
            values: cycleMs === undefined ? [] : [named('original cycle', cycleMs, 'ms')],
            mend:
              cycleMs === undefined ? null : setTransmit(transmit, ['cycleMs'], cycleMs, `send it every ${cycleMs} ms`),
          },
        ];
      }
      const beyondTimeOut = staleAfterMs !== undefined && transmit.cycleMs > staleAfterMs;
      const slower = cycleMs !== undefined && transmit.cycleMs > cycleMs;
      if (!beyondTimeOut && !slower) return null;
      return [
        {
          severity: beyondTimeOut ? 'stop' : 'fix',
          message: `${transmit.message} is sent every ${transmit.cycleMs} ms${slower ? `; the original has ${cycleMs} ms` : ''}${beyondTimeOut ? `; its readers time out after ${staleAfterMs} ms` : ''}`,
          mask,
          values: [
            named('sent every', transmit.cycleMs, 'ms'),
            ...(cycleMs === undefined ? [] : [named('original cycle', cycleMs, 'ms')]),
            ...(staleAfterMs === undefined ? [] : [named('reader times out after', staleAfterMs, 'ms')]),
          ],
          mend: setTransmit(
            transmit,
            ['cycleMs'],
            cycleMs ?? staleAfterMs!,
            `send it every ${cycleMs ?? staleAfterMs} ms`,
          ),
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'The cluster expects the frame every 100 ms and gets it every 500.',
      documents: numberCase({ transmit: { cycleMs: 500 } }),
      expect: ['transmit:host:ToCluster'],
    }),
    passing: () => ({ says: 'It gets it every 100 ms.', documents: numberCase(), expect: [] }),
  },
};
