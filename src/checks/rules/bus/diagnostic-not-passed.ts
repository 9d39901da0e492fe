import { lawAndPractice } from '../../law.ts';
import { isNative } from '../../served.ts';
import { commonPractice, fromMemory, named, read, type Rule } from '../../rule.ts';
import { diagnosticsCase } from '../../examples/diagnostics.ts';

const WAYS: Readonly<Record<string, string>> = { 'obd-request': 'obd-response', 'obd-response': 'obd-request' };

export const rule: Rule = {
  id: 'bus/diagnostic-not-passed',
  severity: 'stop',
  title: 'Diagnostics are not passed through both ways',
  why: 'Inspection reads the emission controller through the chassis connector, and a workshop programs it there: a request without an answer, or none at all, fails it.',
  sources: [read('40 CFR 86.1806 via 40 CFR 85.2231'), fromMemory('ISO 15765-4'), commonPractice()],
  check: {
    function(context, entry) {
      const other = WAYS[entry.id];
      if (other === undefined) return null;
      const target = entry.id === 'obd-request' ? 'donor' : 'host';
      const source = target === 'donor' ? 'host' : 'donor';
      const wanted = context
        .bearers(target, entry.id)
        .some((bearer) => context.readersPresent(bearer).length > 0 && context.sendersPresent(bearer).length === 0);
      const offered = context.bearers(source, entry.id).some((bearer) => context.sendersPresent(bearer).length > 0);
      const otherRouted = context.maskOfFunction(other);
      const all = context.pairing.options.all;
      const due = (wanted && offered ? all : 0n) | otherRouted;
      const mask = due & ~context.maskOfFunction(entry.id) & ~context.maskLeftOut(null, entry.id);
      if (mask === 0n || isNative(context, entry.id, target)) return null;
      return [
        {
          message:
            otherRouted !== 0n
              ? `${other} is passed through, ${entry.id} is not: diagnostics work one way only`
              : `${entry.id} is not passed from the ${source} to the ${target}`,
          because: lawAndPractice(entry, context.classOf(entry)),
          mask,
          values: [named('missing', entry.id)],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'Requests reach the engine controller, answers do not come back.',
      documents: diagnosticsCase({ ways: ['request'] }),
      expect: ['function:obd-response'],
      alsoStops: ['orphan/need-without-route', 'orphan/required-function-missing'],
    }),
    passing: () => ({ says: 'Both ways are forwarded.', documents: diagnosticsCase(), expect: [] }),
  },
};
