import { insertStep } from '../../step-mends.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { interfaceWireCase } from '../../examples/wire-case.ts';

const CONTACT = new Set(['switched-battery', 'switched-ground']);
/** One press must count once. */
const COUNTED = new Set([
  'manual-shift-up',
  'manual-shift-down',
  'cruise-set-coast',
  'cruise-resume-accel',
  'cruise-on-off',
  'tow-haul-mode',
  'drive-mode-select',
]);

export const rule: Rule = {
  id: 'time/debounce-missing',
  severity: 'look',
  title: 'Mechanical contact is read without debounce',
  why: 'A paddle that bounces for 5 ms makes two down-shifts of one.',
  sources: [commonPractice('contacts bounce 5–20 ms')],
  check: {
    route(context, route) {
      if (route.carrier !== 'interface' || (route.steps ?? []).some(({ do: kind }) => kind === 'debounce')) return null;
      const entry = context.functionOf(route);
      for (const { ref, entry: source } of context.sources(route)) {
        if (source?.kind !== 'wire' || !CONTACT.has(source.wire.electrical.class)) continue;
        const driver = context.pairing.side(source.side).modules.get(source.wire.module);
        const mechanical =
          source.wire.electrical.momentary === true ||
          source.wire.electrical.contact !== undefined ||
          driver?.kind === 'switch';
        if (!mechanical && !(entry && COUNTED.has(entry.id))) continue;
        return [
          {
            message: `${ref} is a contact, and ${route.id} reads it without a debounce`,
            mask: context.maskOf(route),
            values: [named('source', ref), named('class', source.wire.electrical.class)],
            mend: insertStep(route, 0, { do: 'debounce', forMs: 20 }, 'debounce it for 20 ms'),
          },
        ];
      }
      return null;
    },
  },
  examples: {
    failing: () => ({
      says: 'The paddle is read as it bounces.',
      documents: contact(false),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'It is debounced for 20 ms.', documents: contact(true), expect: [] }),
  },
};

function contact(debounced: boolean) {
  const down = { function: 'manual-shift-down', meaning: { active: 'pressed', inactive: 'released' } } as const;
  return interfaceWireCase({
    source: { ...down, electrical: { class: 'switched-ground', activeLevel: 'low', momentary: true } },
    target: down,
    route: { steps: debounced ? [{ do: 'debounce', forMs: 20 }] : [] },
  });
}
