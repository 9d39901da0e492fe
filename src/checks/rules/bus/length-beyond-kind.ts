import { dlcOf } from '../../../can/index.ts';
import { commonPractice, fromMemory, named, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'bus/length-beyond-kind',
  severity: 'stop',
  title: 'Message longer than its kind of bus or frame can carry',
  why: 'A classical frame has at most 8 bytes, an FD frame one of 16 lengths, and no FD frame may run on a classical bus: its nodes answer with error frames.',
  sources: [fromMemory('ISO 11898-1:2015, table 5: data length codes'), commonPractice()],
  check: {
    message(context, { message, ref, side }) {
      const bus = context.pairing.side(side).buses.get(message.bus);
      if (!bus) return null;
      const format = message.frameFormat ?? (bus.kind === 'can-fd' && message.length > 8 ? 'fd' : 'classic');
      const fdOnClassic = format === 'fd' && bus.kind === 'can';
      if (!fdOnClassic && dlcOf(message.length, format) !== null) return null;
      return [
        {
          message: fdOnClassic
            ? `${ref} is an FD frame on ${side}:${bus.id}, a classical bus`
            : `${ref} has ${message.length} bytes, which no ${format === 'fd' ? 'FD' : 'classical'} frame has`,
          values: [named('length', message.length, 'bytes'), named('frame', format), named('bus', bus.kind)],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: '12 bytes on a classical bus.',
      documents: numberCase({ sourceMessage: { length: 12 } }),
      expect: ['donor:FromEngine'],
    }),
    passing: () => ({ says: '8 bytes.', documents: numberCase(), expect: [] }),
  },
};
