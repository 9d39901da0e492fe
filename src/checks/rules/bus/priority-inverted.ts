import { compareArbitration } from '../../../can/index.ts';
import { FUNCTIONS } from '../../../model/index.ts';
import type { CheckContext } from '../../context.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { numberCase, hostMessage, interfaceRoute, temperature, transmitOf } from '../../examples/frame-case.ts';
import { byte } from '../../examples/signals.ts';
import { isMotionOrWorse } from '../../context.ts';

export const rule: Rule = {
  id: 'bus/priority-inverted',
  severity: 'look',
  title: 'Slow frame of comfort has priority over a motion frame',
  why: 'The lower identifier wins the bus: a wiper frame at 0x100 delays torque at 0x1A0 every time. The reader’s identifiers are given; what the interface module adds to the queue may be sent at other times.',
  sources: [
    { source: 'CAN arbitration: the lower identifier wins', provenance: 'read' },
    commonPractice('identifiers by deadline'),
  ],
  check: {
    bus(context, { side, bus }) {
      const sent = framesSent(context, side, bus.id);
      const urgent = sent.filter(({ motion }) => motion);
      if (urgent.length === 0) return null;
      const last = urgent.reduce((a, b) => (compareArbitration(a.field, b.field) > 0 ? a : b));
      const before = sent.filter(
        ({ motion, field, cycleMs }) =>
          !motion &&
          compareArbitration(field, last.field) < 0 &&
          cycleMs !== undefined &&
          last.cycleMs !== undefined &&
          cycleMs >= 10 * last.cycleMs,
      );
      if (before.length === 0) return null;
      return [
        {
          message: `${before.map(({ ref, frameId }) => `${ref} (${frameId})`).join(', ')} ${before.length === 1 ? 'has' : 'have'} priority over ${last.ref} (${last.frameId}), which moves the vehicle, and ${before.length === 1 ? 'is' : 'are'} ten times slower or more`,
          values: [
            named('urgent', `${last.ref} ${last.frameId}`, ''),
            ...before.map(({ ref, frameId }) => named('before it', `${ref} ${frameId}`)),
          ],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'A slow temperature at 0x220 goes before engine speed at 0x300.',
      documents: twoFrames('0x300'),
      expect: ['bus:host:body-can'],
    }),
    passing: () => ({ says: 'Engine speed is at 0x100.', documents: twoFrames('0x100'), expect: [] }),
  },
};

function framesSent(context: CheckContext, side: 'host' | 'donor', bus: string) {
  const seen = new Set<string>();
  return context.pairing.map.transmits.flatMap((transmit) => {
    const entry = context.pairing.find(transmit.message);
    if (entry?.kind !== 'message' || entry.side !== side || entry.message.bus !== bus || seen.has(entry.ref)) return [];
    seen.add(entry.ref);
    const { frameId, idFormat, signals, function: own } = entry.message;
    const functions = [own, ...signals.map((signal) => signal.function)];
    const motion = functions.some((id) => {
      const known = id === undefined ? null : FUNCTIONS.get(id);
      return known ? isMotionOrWorse(context.classOf(known)) : false;
    });
    return [
      { ref: entry.ref, frameId, field: { frameId: Number(frameId), idFormat }, motion, cycleMs: transmit.cycleMs },
    ];
  });
}

function twoFrames(frameId: string) {
  return numberCase({
    targetMessage: { cycleMs: 1000, staleAfterMs: 9000, signals: [temperature()] },
    transmit: { cycleMs: 1000 },
    hostMessages: [
      hostMessage({ id: 'Speed', frameId, cycleMs: 20, signals: [byte('Speed', 'engine-speed', '{rev}/min')] }),
    ],
    donorMessages: [
      hostMessage({
        id: 'Speed',
        bus: 'drive-can',
        frameId: '0x125',
        cycleMs: 20,
        sender: 'engine',
        readers: ['old-panel'],
        signals: [byte('Speed', 'engine-speed', '{rev}/min')],
      }),
    ],
    routes: [interfaceRoute({ id: 'speed', from: ['donor:Speed.Speed'], to: 'host:Speed.Speed', staleAfterMs: 100 })],
    transmits: [transmitOf('host:Speed', { cycleMs: 20 })],
  });
}
