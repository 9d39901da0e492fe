import { setTransmit } from '../../mends.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'bus/wrong-port',
  severity: 'stop',
  title: 'Message is sent by a port on another bus than its own',
  why: 'Its readers are on the bus the platform names: sent elsewhere, the frame reaches nobody, or somebody else.',
  sources: [commonPractice()],
  check: {
    transmit(context, transmit) {
      const entry = context.pairing.find(transmit.message);
      const by = context.pairing.interfaceModules.get(transmit.by);
      const port = by?.ports.find(({ id }) => id === transmit.port);
      if (entry?.kind !== 'message' || !by || !port) return null;
      const bus = `${entry.side}:${entry.message.bus}`;
      if (port.bus === bus) return null;
      const right = by.ports.find((candidate) => candidate.bus === bus);
      return [
        {
          message: `${transmit.message} belongs on ${bus}, and ${by.id}.${port.id} is on ${port.bus}`,
          mask: context.pairing.options.maskOf(transmit.when),
          values: [named('bus of the message', bus), named('bus of the port', port.bus)],
          mend: right ? setTransmit(transmit, ['port'], right.id, `send it by port ${right.id}`) : null,
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'The chassis frame is sent by the powertrain port.',
      documents: numberCase({ transmit: { port: 'B' } }),
      expect: ['transmit:host:ToCluster'],
    }),
    passing: () => ({ says: 'It is sent by the chassis port.', documents: numberCase(), expect: [] }),
  },
};
