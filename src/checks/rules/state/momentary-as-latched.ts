import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { wireCase } from '../../examples/wire-case.ts';

export const rule: Rule = {
  id: 'state/momentary-as-latched',
  severity: 'fix',
  title: 'Momentary button feeds a reader that takes a state, or the other way round',
  why: 'A tow/haul button read as a state holds the mode only while it is pressed; read as a toggle it flips with every sample.',
  sources: [commonPractice('an edge detector or a latch between')],
  check: {
    route(context, route) {
      const target = context.pairing.find(route.to);
      if (target?.kind !== 'wire' || target.wire.electrical.momentary === undefined) return null;
      const drafts: Draft[] = [];
      for (const { ref, entry: source } of context.sources(route)) {
        if (source?.kind !== 'wire' || source.wire.electrical.momentary === undefined) continue;
        if (source.wire.electrical.momentary === target.wire.electrical.momentary) continue;
        const word = (momentary: boolean): string => (momentary ? 'momentary' : 'held');
        drafts.push({
          message: `${ref} is ${word(source.wire.electrical.momentary)}, ${route.to} expects a ${word(target.wire.electrical.momentary)} level`,
          mask: context.maskOf(route),
          values: [
            named('source', word(source.wire.electrical.momentary)),
            named('target', word(target.wire.electrical.momentary)),
          ],
        });
      }
      return drafts.length === 0 ? null : drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'A push button is wired to an input that wants a held level.',
      documents: button(false),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'The input wants a push button.', documents: button(true), expect: [] }),
  },
};

function button(wanted: boolean) {
  const tow = { function: 'tow-haul-mode', meaning: { active: 'On', inactive: 'Off' } } as const;
  return wireCase({
    source: { ...tow, electrical: { class: 'switched-ground', momentary: true } },
    target: { ...tow, electrical: { class: 'input-pull-up-12v', momentary: wanted, activeLevel: 'low' } },
  });
}
