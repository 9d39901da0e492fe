import { MAX_FRAME_ID } from '../../../can/index.ts';
import { commonPractice, fromMemory, named, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'bus/id-out-of-range',
  severity: 'stop',
  title: 'Frame id does not fit its format',
  why: 'A standard identifier has 11 bits, an extended one 29: a greater number cannot be sent.',
  sources: [fromMemory('ISO 11898-1: identifier lengths'), commonPractice()],
  check: {
    message(_context, { message, ref }) {
      const frameId = Number(message.frameId);
      const most = MAX_FRAME_ID[message.idFormat];
      if (frameId <= most) return null;
      return [
        {
          message: `${ref} has the ${message.idFormat} frame id ${message.frameId}; the greatest is 0x${most.toString(16).toUpperCase()}`,
          values: [named('frame id', message.frameId), named('format', message.idFormat)],
          mend:
            message.idFormat === 'standard' && frameId <= MAX_FRAME_ID.extended
              ? {
                  title: 'make it an extended identifier',
                  edits: [
                    {
                      do: 'set',
                      in: ref.startsWith('host:') ? 'host' : 'donor',
                      path: ['messages', { id: message.id }, 'idFormat'],
                      to: 'extended',
                    },
                  ],
                }
              : null,
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'A standard identifier 0x801.',
      documents: numberCase({ sourceMessage: { frameId: '0x801' } }),
      expect: ['donor:FromEngine'],
    }),
    passing: () => ({
      says: 'The same as an extended one.',
      documents: numberCase({ sourceMessage: { frameId: '0x801', idFormat: 'extended' } }),
      expect: [],
    }),
  },
};
