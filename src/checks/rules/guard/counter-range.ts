import { commonPractice, fromMemory, named, type Draft, type Rule } from '../../rule.ts';
import { GUARD, guardedCase } from '../../examples/guarded.ts';
import { setTransmit } from '../../mends.ts';

export const rule: Rule = {
  id: 'guard/counter-range',
  severity: 'stop',
  title: 'Counter wraps elsewhere than its reader expects',
  why: 'A sender that wraps after 14 against a reader that expects 15 is a fault every 15 frames, 150 ms at 10 ms.',
  sources: [fromMemory('AUTOSAR E2E profile 1: counter 0 … 14'), commonPractice()],
  check: {
    transmit(context, transmit) {
      const entry = context.pairing.find(transmit.message);
      if (entry?.kind !== 'message') return null;
      const wanted = entry.message.protection;
      const guard = transmit.protection ?? wanted;
      if (guard?.counter === undefined) return null;
      const field = entry.message.signals.find(({ id }) => id === guard.counter);
      const holds = field ? 2 ** field.bits.length : null;
      const modulo = guard.counterModulo ?? holds;
      const expected = wanted?.counterModulo ?? holds;
      const mask = context.pairing.options.maskOf(transmit.when);
      const drafts: Draft[] = [];
      if (holds !== null && modulo !== null && modulo > holds) {
        drafts.push({
          message: `the counter ${guard.counter} of ${transmit.message} counts to ${modulo - 1}, and its field holds ${holds - 1}`,
          mask,
          values: [named('modulo', modulo), named('field holds', holds)],
        });
      } else if (expected !== null && modulo !== null && modulo !== expected) {
        drafts.push({
          message: `the counter ${guard.counter} of ${transmit.message} wraps after ${modulo - 1}; its readers expect ${expected - 1}`,
          mask,
          values: [named('modulo', modulo), named('expected', expected)],
          mend: setTransmit(transmit, ['protection', 'counterModulo'], expected, `wrap after ${expected - 1}`),
        });
      }
      const skips = (list: readonly number[] | undefined): string => [...(list ?? [])].sort((a, b) => a - b).join(', ');
      if (wanted && transmit.protection && skips(wanted.counterSkips) !== skips(transmit.protection.counterSkips)) {
        drafts.push({
          message: `the counter of ${transmit.message} leaves out [${skips(transmit.protection.counterSkips)}]; its readers expect it to leave out [${skips(wanted.counterSkips)}]`,
          mask,
          values: [
            named('left out', skips(transmit.protection.counterSkips)),
            named('expected', skips(wanted.counterSkips)),
          ],
        });
      }
      return drafts.length === 0 ? null : drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'The reader expects 0 … 15, the transmit counts 0 … 14.',
      documents: guardedCase({ transmit: { protection: { ...GUARD, counterModulo: 15 } } }),
      expect: ['transmit:host:ToCluster'],
    }),
    passing: () => ({ says: 'Both wrap after 15.', documents: guardedCase(), expect: [] }),
  },
};
