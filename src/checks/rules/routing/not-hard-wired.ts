import { lawAndPractice } from '../../law.ts';
import { commonPractice, named, read, type Rule } from '../../rule.ts';
import { hostMessage, donorMessage, transmitOf, interfaceRoute } from '../../examples/frame-case.ts';
import { interfaceWireCase, wireCase } from '../../examples/wire-case.ts';

/** Both tracks have a rule of their own. */
const PEDAL = /^(accelerator-pedal-position-|pedal-sensor-supply)/;

export const rule: Rule = {
  id: 'routing/not-hard-wired',
  severity: 'stop',
  title: 'Function that must be hard-wired is carried only by bus or interface module',
  why: 'One network or firmware fault must not be able to give a function of this kind a wrong value; a conductor end to end cannot.',
  sources: [
    read('49 CFR 571.102 S3.1.3 (starter interlock)'),
    read('49 CFR 571.114 S5.3 (brake transmission shift interlock)'),
    commonPractice('the carrier rule of the function catalogue'),
  ],
  check: {
    route(context, route) {
      if (route.carrier === 'hard-wire') return null;
      const entry = context.functionOf(route);
      if (!entry || PEDAL.test(entry.id)) return null;
      const is = context.classOf(entry);
      if (is.carrierRule !== 'hard-wired') return null;
      // A copy for display beside the wire is as it should be.
      let mask = context.maskOf(route);
      for (const other of context.routesOf(entry.id)) if (context.isHard(other)) mask &= ~context.maskOf(other);
      if (mask === 0n) return null;
      return [
        {
          message: `${entry.title} reaches ${route.to} only by ${route.carrier === 'bus' ? 'the bus' : 'the interface module'}: no route carries it on a conductor end to end`,
          because: lawAndPractice(entry, is),
          mask,
          values: [
            named('function', entry.id),
            named('carrier', route.carrier),
            named('carrier rule', is.carrierRule),
            named('criticality', is.criticality),
          ],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'The park/neutral contact enters the interface module, whose output pulls the starter relay.',
      documents: interfaceWireCase(),
      expect: ['route:the-route'],
    }),
    passing: () => ({
      says: 'The contact is wired to the relay; a copy for the cluster travels by bus.',
      documents: wireCase({
        donor: {
          messages: [donorMessage({ signals: [rangeBit] })],
        },
        host: {
          messages: [hostMessage({ signals: [rangeBit] })],
        },
        routes: [
          interfaceRoute({
            id: 'the-copy',
            from: ['donor:FromEngine.ParkNeutral'],
            to: 'host:ToCluster.ParkNeutral',
            staleAfterMs: 100,
            onLoss: { do: 'substitute', state: 'not-permitted' },
          }),
        ],
        map: { transmits: [transmitOf('host:ToCluster')] },
      }),
      expect: [],
    }),
  },
};

const rangeBit = {
  id: 'ParkNeutral',
  bits: { start: 0, length: 1, order: 'little' },
  number: 'unsigned',
  factor: 1,
  offset: 0,
  unit: '',
  states: { '0': 'not-permitted', '1': 'permitted' },
  function: 'park-neutral-starter-interlock',
} as const;
