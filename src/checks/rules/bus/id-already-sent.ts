import { maskSentByOwn, messagesWithFrame } from '../../frames-on-bus.ts';
import { mendBy } from '../../mends.ts';
import { commonPractice, fromMemory, named, type Draft, type Rule } from '../../rule.ts';
import { numberCase, hostMessage } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'bus/id-already-sent',
  severity: 'stop',
  title: 'Interface module sends a frame id that a retained module sends',
  why: 'Two senders of one identifier collide bit by bit: error frames, then bus-off, and every module on the bus is deaf.',
  sources: [fromMemory('ISO 11898-1: one sender for an identifier'), commonPractice()],
  check: {
    transmit(context, transmit) {
      const entry = context.pairing.find(transmit.message);
      if (entry?.kind !== 'message') return null;
      const mask = context.pairing.options.maskOf(transmit.when);
      const drafts: Draft[] = [];
      for (const other of messagesWithFrame(context, entry)) {
        const both = mask & maskSentByOwn(context, other);
        if (both === 0n) continue;
        const senders = context.sendersPresent(other).join(', ');
        drafts.push({
          message: `${transmit.by} sends ${transmit.message} (${entry.message.frameId}), and ${senders} sends ${other.ref === transmit.message ? 'it' : `${other.ref} with the same frame id`} on that bus`,
          mask: both,
          values: [
            named('frame id', entry.message.frameId),
            named('sender', senders),
            named('bus', `${entry.side}:${entry.message.bus}`),
          ],
          mend: mendBy(`do not send ${transmit.message}`, {
            do: 'remove',
            in: 'map',
            path: ['transmits', { key: 'message', is: transmit.message }],
          }),
        });
      }
      return drafts.length === 0 ? null : drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'A frame of the retained cluster has the identifier that the interface module sends.',
      documents: numberCase({
        hostMessages: [hostMessage({ id: 'ClusterStatus', sender: 'cluster', readers: ['old-ecm'] })],
      }),
      expect: ['transmit:host:ToCluster'],
    }),
    passing: () => ({
      says: 'It has another one.',
      documents: numberCase({
        hostMessages: [hostMessage({ id: 'ClusterStatus', frameId: '0x221', sender: 'cluster', readers: ['old-ecm'] })],
      }),
      expect: [],
    }),
  },
};
