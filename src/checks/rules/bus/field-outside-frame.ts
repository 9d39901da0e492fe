import { lastByteOf } from '../../field-layout.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'bus/field-outside-frame',
  severity: 'stop',
  title: 'Field reaches beyond the end of its frame',
  why: 'Bits that are not in the frame are never sent: the start bit, the byte order or the length of the message is wrong.',
  sources: [commonPractice()],
  check: {
    message(context, { message, ref }) {
      let drafts: Draft[] | null = null;
      for (const signal of message.signals) {
        const last = lastByteOf(signal);
        if (last < message.length) continue;
        drafts ??= [];
        drafts.push({
          subject: `${ref}.${signal.id}`,
          message: `${ref}.${signal.id} reaches into byte ${last}, and the frame has ${message.length} bytes`,
          mask: context.pairing.options.maskOf(signal.when),
          values: [
            named('bits', `${signal.bits.start}|${signal.bits.length} ${signal.bits.order}`),
            named('length', message.length, 'bytes'),
          ],
        });
      }
      return drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'A field ends in byte 8 of an 8-byte frame.',
      documents: numberCase({ source: { bits: { start: 60, length: 8, order: 'little' } } }),
      expect: ['donor:FromEngine.OilTemp'],
    }),
    passing: () => ({
      says: 'It ends in byte 7.',
      documents: numberCase({ source: { bits: { start: 56, length: 8, order: 'little' } } }),
      expect: [],
    }),
  },
};
