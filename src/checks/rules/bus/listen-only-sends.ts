import { commonPractice, named, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';
import { interfaceModule } from '../../examples/documents.ts';
import { mendBy } from '../../mends.ts';

export const rule: Rule = {
  id: 'bus/listen-only-sends',
  severity: 'stop',
  title: 'Interface module sends on a port declared listen-only',
  why: 'A port that must not talk, on a diagnostic or safety bus, was declared so for a reason; frames sent there never leave, or flood what should stay quiet.',
  sources: [commonPractice('a bus policy: where the added module may talk')],
  check: {
    transmit(context, transmit) {
      const by = context.pairing.interfaceModules.get(transmit.by);
      const port = by?.ports.find(({ id }) => id === transmit.port);
      if (!by || port?.listenOnly !== true) return null;
      return [
        {
          message: `${transmit.message} is sent by ${by.id}.${port.id} on ${port.bus}, and that port is listen-only`,
          mask: context.pairing.options.maskOf(transmit.when),
          values: [named('port', `${by.id}.${port.id}`), named('bus', port.bus)],
          mend: mendBy('let the port send', {
            do: 'remove',
            in: 'map',
            path: ['interfaceModules', { id: by.id }, 'ports', { id: port.id }, 'listenOnly'],
          }),
        },
      ];
    },
  },
  examples: {
    failing: () => ({ says: 'Port A is listen-only.', documents: port(true), expect: ['transmit:host:ToCluster'] }),
    passing: () => ({ says: 'Port A may send.', documents: port(false), expect: [] }),
  },
};

function port(listenOnly: boolean) {
  return numberCase({
    map: {
      interfaceModules: [
        interfaceModule({
          ports: [
            { id: 'A', bus: 'host:body-can', listenOnly },
            { id: 'B', bus: 'donor:drive-can' },
          ],
        }),
      ],
    },
  });
}
