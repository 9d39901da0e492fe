import { commonPractice, fromMemory, named, type Draft, type Rule } from '../../rule.ts';
import { numberCase, transmitOf } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'bus/two-senders',
  severity: 'stop',
  title: 'One message, two senders at once',
  why: 'Two nodes with one identifier collide in arbitration and in data: error frames and bus-off.',
  sources: [fromMemory('ISO 11898-1: one sender for an identifier'), commonPractice()],
  check: {
    message(context, entry) {
      const drafts: Draft[] = [];
      const senders = context.sendersPresent(entry);
      if (senders.length > 1) {
        drafts.push({
          message: `${entry.ref} is sent by ${senders.join(' and ')}, which are all retained`,
          mask: context.pairing.options.maskOf(entry.message.when),
          values: senders.map((id) => named('sender', id)),
        });
      }
      const transmits = context.transmitsFor(entry);
      for (let second = 1; second < transmits.length; second += 1) {
        for (let first = 0; first < second; first += 1) {
          const a = transmits[first]!;
          const b = transmits[second]!;
          const mask = context.pairing.options.maskOf(a.when) & context.pairing.options.maskOf(b.when);
          if (mask === 0n) continue;
          drafts.push({
            message: `${entry.ref} is transmitted twice: by ${a.by} on port ${a.port}, and by ${b.by} on port ${b.port}`,
            mask,
            values: [named('first', `${a.by}.${a.port}`), named('second', `${b.by}.${b.port}`)],
          });
        }
      }
      return drafts.length === 0 ? null : drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'The transmit stands twice.',
      documents: numberCase({ transmits: [transmitOf('host:ToCluster')] }),
      expect: ['host:ToCluster'],
    }),
    passing: () => ({ says: 'It stands once.', documents: numberCase(), expect: [] }),
  },
};
