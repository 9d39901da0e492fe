import { isFrameField } from '../../../model/index.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { setTransmit } from '../../mends.ts';
import { numberCase, temperature } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'orphan/field-not-filled',
  severity: 'fix',
  title: 'Interface module sends a message with a signal neither routed nor filled',
  why: 'The bits of that signal leave as whatever the fill pattern is: a reader takes 0 for a value.',
  sources: [commonPractice('every field of a frame one sends is decided')],
  check: {
    transmit(context, transmit) {
      const entry = context.pairing.find(transmit.message);
      if (entry?.kind !== 'message' || transmit.send === 'forwarded') return null;
      const mask = context.pairing.options.maskOf(transmit.when);
      const drafts: Draft[] = [];
      for (const signal of entry.message.signals) {
        if (isFrameField(entry.message, signal) || Object.hasOwn(transmit.fill ?? {}, signal.id)) continue;
        const ref = `${transmit.message}.${signal.id}`;
        const open =
          mask &
          context.pairing.options.maskOf(signal.when) &
          ~context.maskWritten(ref) &
          ~context.maskLeftOut(ref, signal.function ?? null);
        if (open === 0n) continue;
        const notAvailable = signal.notAvailable?.[0];
        drafts.push({
          message: `${ref} is sent, but no route writes it and the transmit does not fill it`,
          mask: open,
          values: [named('field', ref)],
          mend:
            notAvailable === undefined
              ? null
              : setTransmit(
                  transmit,
                  ['fill', signal.id],
                  notAvailable,
                  `fill it with ${notAvailable}, its not-available value`,
                ),
        });
      }
      return drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'The frame has a second temperature which nothing writes.',
      documents: twoTemperatures({}),
      expect: ['transmit:host:ToCluster'],
    }),
    passing: () => ({
      says: 'It is filled with its not-available value.',
      documents: twoTemperatures({ Second: 255 }),
      expect: [],
    }),
  },
};

function twoTemperatures(fill: Record<string, number>) {
  return numberCase({
    targetMessage: {
      signals: [
        temperature(),
        temperature({ id: 'Second', bits: { start: 8, length: 8, order: 'little' }, readers: [] }),
      ],
    },
    transmit: { fill },
  });
}
