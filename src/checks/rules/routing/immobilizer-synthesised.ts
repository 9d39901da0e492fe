import { lawAndPractice } from '../../law.ts';
import { commonPractice, named, read, type Draft, type Rule } from '../../rule.ts';
import { bit, flowCase } from '../../examples/signals.ts';

export const rule: Rule = {
  id: 'routing/immobilizer-synthesised',
  severity: 'stop',
  title: 'Immobilizer answer is made up instead of passed through',
  why: 'A constant, translated or substituted “authorized” lets any key start the vehicle. Pass the pair through end to end, or replace both halves with another compliant pair.',
  sources: [read('49 CFR 571.114 S5.1'), read('49 USC 30122'), read('UN R116 / R162'), commonPractice()],
  check: {
    function(context, entry) {
      if (entry.id !== 'immobilizer-authorization') return null;
      const because = lawAndPractice(entry, context.classOf(entry));
      const drafts: Draft[] = [];
      for (const route of context.routesOf(entry.id)) {
        const made: string[] = [];
        if (route.from.length === 0) made.push('it has no source');
        for (const step of route.steps ?? []) made.push(`the step "${step.do}" alters it`);
        if (
          route.onLoss?.do === 'substitute' &&
          route.onLoss.notAvailable !== true &&
          !/unknown/i.test(route.onLoss.state ?? '')
        ) {
          made.push(`on loss it gives ${route.onLoss.state ?? route.onLoss.value ?? 'a value'}`);
        }
        if (route.onLoss?.do === 'hold') made.push('on loss the last answer is held');
        if (made.length === 0) continue;
        drafts.push({
          subject: `route:${route.id}`,
          message: `${route.id} does not pass the authorization through: ${made.join('; ')}`,
          because,
          mask: context.maskOf(route),
          values: [named('function', entry.id), ...made.map((text) => named('altered', text))],
        });
      }
      // A fill value in the field, or a transmit of it that no route writes, is a constant answer.
      for (const transmit of context.pairing.map.transmits) {
        for (const signalId of Object.keys(transmit.fill ?? {})) {
          const ref = `${transmit.message}.${signalId}`;
          const target = context.pairing.find(ref);
          if (target?.kind !== 'signal' || (target.signal.function ?? target.message.function) !== entry.id) continue;
          drafts.push({
            subject: `transmit:${transmit.message}`,
            message: `${ref} is filled with the constant ${transmit.fill![signalId]}`,
            because,
            mask: context.pairing.options.maskOf(transmit.when),
            values: [named('field', ref), named('raw value', transmit.fill![signalId]!)],
          });
        }
      }
      return drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'Whatever the key says, the engine controller is told that it is authorized.',
      documents: flowCase({
        toDonor: [bit('Authorized', 'immobilizer-authorization')],
        route: () => ({
          steps: [{ do: 'states', map: { Off: 'On', On: 'On' } }],
          onLoss: { do: 'substitute', state: 'On' },
        }),
      }),
      expect: ['route:authorized'],
      alsoStops: ['time/loss-opposes-safe-state'],
    }),
    passing: () => ({
      says: 'The answer of the key reader is passed on as it is.',
      documents: flowCase({
        toDonor: [bit('Authorized', 'immobilizer-authorization')],
        route: () => ({ onLoss: { do: 'stop-sending' } }),
      }),
      expect: [],
    }),
  },
};
