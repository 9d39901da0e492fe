import { unusedBits } from '../../../can/index.ts';
import { commonPractice, fromMemory, named, type Rule } from '../../rule.ts';
import { setTransmit } from '../../mends.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'bus/unused-bits',
  severity: 'look',
  title: 'Bits that no signal uses are sent without a decision, or against the convention',
  why: 'Readers may take 0 for off or valid: in frames of the 29-bit convention unused bits are 1, not available.',
  sources: [fromMemory('SAE J1939-71: unused bits are 1'), commonPractice('send what the original sent')],
  check: {
    transmit(context, transmit) {
      const entry = context.pairing.find(transmit.message);
      if (entry?.kind !== 'message' || transmit.send === 'forwarded') return null;
      const { message } = entry;
      const convention = message.idFormat === 'extended' ? '1' : null;
      if (transmit.unusedBits !== undefined && (convention === null || transmit.unusedBits === convention)) return null;
      if (message.length === 0 || message.signals.length === 0) return null;
      if (
        unusedBits(
          message.signals.map(({ bits }) => bits),
          message.length,
        ) === 0n
      )
        return null;
      const proposed = convention ?? '1';
      return [
        {
          message:
            transmit.unusedBits === undefined
              ? `${transmit.message} has bits that no signal uses, and "unusedBits" does not say how they are sent`
              : `${transmit.message} has a 29-bit frame id, and its unused bits are sent as ${transmit.unusedBits}; the convention is 1`,
          mask: context.pairing.options.maskOf(transmit.when),
          values: [named('unused bits sent as', transmit.unusedBits ?? 'not stated')],
          mend: setTransmit(transmit, ['unusedBits'], proposed, `send them as ${proposed}`),
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'Seven bytes of the frame are nobody’s, and nothing is said of them.',
      documents: numberCase({ transmit: { unusedBits: undefined } }),
      expect: ['transmit:host:ToCluster'],
    }),
    passing: () => ({ says: 'They are sent as 1.', documents: numberCase(), expect: [] }),
  },
};
