import { commonPractice, fromMemory, named, type Draft, type Rule } from '../../rule.ts';
import { setTransmit } from '../../mends.ts';
import { diagnosticsCase } from '../../examples/diagnostics.ts';

const DIAGNOSTIC = new Set(['obd-request', 'obd-response']);
/** Share of the 50 ms answer time which the module itself may need (common practice). */
const MODULE_MS = 25;
const P2_MS = 50;

export const rule: Rule = {
  id: 'bus/diagnostic-multiframe',
  severity: 'fix',
  title: 'Diagnostic frames are not forwarded one by one, or too slowly',
  why: 'An answer of 20 bytes is a first frame and consecutive ones, with flow control coming back: a cyclic or sampled copy loses frames, and two slow hops break the 50 ms answer time.',
  sources: [fromMemory('ISO 15765-2: segmented transport'), fromMemory('ISO 15765-4: P2 50 ms'), commonPractice()],
  check: {
    route(context, route) {
      const entry = context.functionOf(route);
      if (!entry || !DIAGNOSTIC.has(entry.id) || route.carrier !== 'interface') return null;
      const drafts: Draft[] = [];
      const mask = context.maskOf(route);
      const target = context.pairing.find(route.to);
      if (target?.kind === 'signal') {
        drafts.push({
          message: `${route.id} carries one signal of a diagnostic frame; forward the whole message ${target.side}:${target.message.id}`,
          mask,
          values: [named('target', route.to)],
        });
      }
      const by = route.by === undefined ? undefined : context.pairing.interfaceModules.get(route.by);
      if (by) {
        const twice = 2 * (by.periodMs + by.latencyMs) + MODULE_MS;
        if (twice > P2_MS) {
          drafts.push({
            severity: 'look',
            message: `request and answer pass ${by.id} once each: 2 · (${by.periodMs} + ${by.latencyMs}) + ${MODULE_MS} ms for the module is ${twice} ms, and the answer is due after ${P2_MS}`,
            mask,
            values: [named('answer after', twice, 'ms'), named('due', P2_MS, 'ms')],
          });
        }
      }
      return drafts.length === 0 ? null : drafts;
    },
    transmit(context, transmit) {
      const entry = context.pairing.find(transmit.message);
      if (entry?.kind !== 'message' || entry.message.diagnostic === undefined || transmit.send === 'forwarded')
        return null;
      return [
        {
          message: `${transmit.message} is a diagnostic frame, and it is sent ${transmit.send ?? 'cyclic'} instead of forwarded`,
          mask: context.pairing.options.maskOf(transmit.when),
          values: [named('sent', transmit.send ?? 'cyclic')],
          mend: setTransmit(transmit, ['send'], 'forwarded', 'forward each frame as it comes'),
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'The answer is sent every 100 ms.',
      documents: diagnosticsCase({ transmit: { send: 'cyclic', cycleMs: 100 } }),
      expect: ['transmit:host:Response'],
    }),
    passing: () => ({ says: 'Every frame is forwarded as it comes.', documents: diagnosticsCase(), expect: [] }),
  },
};
