import { lawAndPractice } from '../../law.ts';
import { commonPractice, named, read, type Draft, type Rule } from '../../rule.ts';
import { diagnosticsCase } from '../../examples/diagnostics.ts';

const UNTOUCHED = new Set(['obd-request', 'obd-response']);

export const rule: Rule = {
  id: 'bus/diagnostic-altered',
  severity: 'stop',
  title: 'Diagnostic answer is altered or made up',
  why: 'Readiness, trouble codes and identification must come from the emission controllers untouched; a gateway that answers for them defeats inspection.',
  sources: [read('42 USC 7522(a)(3)(A),(B)'), commonPractice('forward frames whole')],
  check: {
    route(context, route) {
      const entry = context.functionOf(route);
      if (!entry || !UNTOUCHED.has(entry.id) || route.carrier === 'hard-wire') return null;
      const made: string[] = [];
      for (const step of route.steps ?? []) made.push(`the step "${step.do}" alters it`);
      if (route.from.length === 0) made.push('it has no source');
      if (route.onLoss?.do === 'substitute' && route.onLoss.notAvailable !== true)
        made.push('on loss it gives a value');
      if (route.onLoss?.do === 'hold') made.push('on loss it repeats the last answer');
      if (made.length === 0) return null;
      const draft: Draft = {
        message: `${route.id} does not pass ${entry.title} on as it is: ${made.join('; ')}`,
        because: lawAndPractice(entry, context.classOf(entry)),
        mask: context.maskOf(route),
        values: made.map((text) => named('altered', text)),
      };
      return [draft];
    },
    transmit(context, transmit) {
      const message = context.pairing.find(transmit.message);
      if (message?.kind !== 'message' || message.message.diagnostic !== 'response') return null;
      const filled = Object.keys(transmit.fill ?? {});
      if (filled.length === 0) return null;
      return [
        {
          message: `${transmit.message} is a diagnostic answer, and ${filled.join(', ')} is filled with a constant`,
          mask: context.pairing.options.maskOf(transmit.when),
          values: filled.map((id) => named('filled', id)),
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'When the controller does not answer, the last answer is repeated.',
      documents: diagnosticsCase({ route: { onLoss: { do: 'hold' } } }),
      expect: ['route:response'],
    }),
    passing: () => ({ says: 'Answers are forwarded as they come.', documents: diagnosticsCase(), expect: [] }),
  },
};
