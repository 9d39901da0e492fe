import { setTransmit } from '../../mends.ts';
import { commonPractice, named, read, type Rule } from '../../rule.ts';
import { guardedCase } from '../../examples/guarded.ts';
import type { Json } from '../../../model/index.ts';

export const rule: Rule = {
  id: 'guard/target-not-regenerated',
  severity: 'stop',
  title: 'Guarded message is sent without its counter or checksum made afresh',
  why: 'One changed byte under an old checksum, or a counter that stands: the reader drops every frame.',
  sources: [read('AUTOSAR E2E: corruption and repetition'), commonPractice()],
  check: {
    transmit(context, transmit) {
      const entry = context.pairing.find(transmit.message);
      if (entry?.kind !== 'message') return null;
      const wanted = entry.message.protection;
      if (!wanted || (wanted.counter === undefined && wanted.checksum === undefined)) return null;
      const written = entry.message.signals.some(({ id }) => context.pairing.routesTo.has(`${transmit.message}.${id}`));
      // A frame that is forwarded whole keeps the guard of its own sender.
      if (transmit.send === 'forwarded' && !written) return null;
      const lacking = (['counter', 'checksum'] as const).filter(
        (part) => wanted[part] !== undefined && transmit.protection?.[part] !== wanted[part],
      );
      if (lacking.length === 0) return null;
      return [
        {
          message: `the readers of ${transmit.message} expect ${lacking.map((part) => `${part} ${wanted[part]}`).join(' and ')}; the transmit does not make ${lacking.length === 1 ? 'it' : 'them'}`,
          mask: context.pairing.options.maskOf(transmit.when),
          values: lacking.map((part) => named(part, wanted[part]!)),
          mend: setTransmit(transmit, ['protection'], wanted as unknown as Json, 'guard it as the original was'),
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'The transmit says nothing of counter and checksum.',
      documents: guardedCase({ transmit: { protection: undefined } }),
      expect: ['transmit:host:ToCluster'],
    }),
    passing: () => ({ says: 'Both are made afresh.', documents: guardedCase(), expect: [] }),
  },
};
