import { isDiagnosticId } from '../../frames-on-bus.ts';
import { commonPractice, fromMemory, named, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'bus/diagnostic-id-shadowed',
  severity: 'stop',
  title: 'Ordinary frame bears an identifier of legislated diagnostics',
  why: 'A scan tool takes it for an answer, a module for a request: inspection fails, or worse.',
  sources: [fromMemory('ISO 15765-4: 0x7DF, 0x7E0–0x7EF, 0x18DB33F1, 0x18DA··F1'), commonPractice()],
  check: {
    transmit(context, transmit) {
      const entry = context.pairing.find(transmit.message);
      if (entry?.kind !== 'message') return null;
      const { message } = entry;
      const bears = message.function === 'obd-request' || message.function === 'obd-response';
      if (message.diagnostic !== undefined || bears || !isDiagnosticId(Number(message.frameId), message.idFormat))
        return null;
      return [
        {
          message: `${transmit.message} is sent with ${message.frameId}, an identifier of legislated diagnostics, and is not declared diagnostic`,
          mask: context.pairing.options.maskOf(transmit.when),
          values: [named('frame id', message.frameId)],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'The temperature frame bears 0x7E8.',
      documents: numberCase({ targetMessage: { frameId: '0x7E8' } }),
      expect: ['transmit:host:ToCluster'],
    }),
    passing: () => ({ says: 'It bears 0x220.', documents: numberCase(), expect: [] }),
  },
};
