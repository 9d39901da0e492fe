import { maskSentByOwn, messagesWithFrame } from '../../frames-on-bus.ts';
import { commonPractice, fromMemory, named, type Draft, type Rule } from '../../rule.ts';
import { numberCase, hostMessage } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'bus/id-twice',
  severity: 'stop',
  title: 'Two messages with one frame id on one bus',
  why: 'Retained modules or transmits that send the same identifier collide, two diagnostic responders answer at once.',
  sources: [
    fromMemory('ISO 11898-1: one sender for an identifier'),
    fromMemory('ISO 15765-4: one responder for an address'),
    commonPractice(),
  ],
  check: {
    message(context, entry) {
      const same = messagesWithFrame(context, entry);
      if (same.length < 2) return null;
      const drafts: Draft[] = [];
      for (const other of same) {
        if (other === entry) break;
        const both = maskSent(context, entry) & maskSent(context, other);
        if (both === 0n) continue;
        // A transmit against a retained sender is the other rule's finding.
        if (maskSentByOwn(context, entry) === 0n || maskSentByOwn(context, other) === 0n) {
          if (maskSentByOwn(context, entry) !== 0n || maskSentByOwn(context, other) !== 0n) continue;
        }
        drafts.push({
          message: `${other.ref} and ${entry.ref} are both sent with ${entry.message.frameId} (${entry.message.idFormat}) on ${entry.side}:${entry.message.bus}`,
          mask: both,
          values: [named('frame id', entry.message.frameId), named('first', other.ref), named('second', entry.ref)],
        });
      }
      return drafts.length === 0 ? null : drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'Two frames of the cluster bear one identifier.',
      documents: pairOfFrames('0x240'),
      expect: ['host:ClusterB'],
    }),
    passing: () => ({ says: 'They bear two.', documents: pairOfFrames('0x241'), expect: [] }),
  },
};

type Check = NonNullable<Rule['check']['message']>;

function maskSent(context: Parameters<Check>[0], entry: Parameters<Check>[1]): bigint {
  const transmits = context
    .transmitsFor(entry)
    .reduce((mask, { when }) => mask | context.pairing.options.maskOf(when), 0n);
  return maskSentByOwn(context, entry) | transmits;
}

function pairOfFrames(frameId: string) {
  const of = { sender: 'cluster', readers: ['old-ecm'] };
  return numberCase({
    hostMessages: [
      hostMessage({ id: 'ClusterA', frameId: '0x240', ...of }),
      hostMessage({ id: 'ClusterB', frameId, ...of }),
    ],
  });
}
