import { parseRef, type HarnessPart, type Pairing } from '../../../model/index.ts';
import { commonPractice, fromMemory, named, type Draft, type Rule } from '../../rule.ts';
import { mendBy } from '../../mends.ts';
import { loadCase } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'wire/coil-polarity',
  severity: 'stop',
  title: 'Suppressed relay has its coil the wrong way round',
  why: 'A relay with a diode across its coil conducts when 85 lies on battery and 86 on ground: a dead short, and the fuse or the driver goes.',
  sources: [
    fromMemory('DIN 72552 and ISO 7588 marks: 86 positive, 85 negative'),
    commonPractice('a relay with a diode has a polarity; one with a resistor has none'),
  ],
  check: {
    harness({ pairing }) {
      return (pairing.map.harness?.parts ?? []).flatMap((part): Draft[] => {
        if (part.kind !== 'relay' || part.suppressed !== true) return [];
        const [at85, at86] = [potentialAt(pairing, part, '85'), potentialAt(pairing, part, '86')];
        if (at85 !== 'battery' && at86 !== 'ground') return [];
        const [on85, on86] = [part.terminals?.['85'], part.terminals?.['86']];
        return [
          {
            subject: `part:${part.id}`,
            message: `${part.title} (${part.id}) is suppressed, and its coil has 85 on ${on85 ?? 'its driver'}${at85 === 'battery' ? ' (battery)' : ''} and 86 on ${on86 ?? 'its driver'}${at86 === 'ground' ? ' (ground)' : ''}: 86 is the positive end`,
            mask: pairing.options.maskOf(part.when),
            values: [named('part', part.id), named('85 on', on85 ?? 'driver'), named('86 on', on86 ?? 'driver')],
            mend: mendBy(`exchange 85 and 86 of ${part.id}`, {
              do: 'set',
              in: 'map',
              path: ['harness', 'parts', { id: part.id }, 'terminals'],
              to: exchanged(part.terminals ?? {}),
            }),
          },
        ];
      });
    },
  },
  examples: {
    failing: () => ({
      says: 'A relay with a diode: 85 on a feed, 86 switched to ground.',
      documents: relay({ '85': 'host:F2', '30': 'host:F2' }),
      expect: ['part:k1'],
    }),
    passing: () => ({ says: '86 on the feed.', documents: relay({ '86': 'host:F2', '30': 'host:F2' }), expect: [] }),
  },
};

/** What a coil terminal lies on by what it is joined to; null when that is a driver or not known. */
function potentialAt(pairing: Pairing, { terminals }: HarnessPart, terminal: '85' | '86'): 'battery' | 'ground' | null {
  const ref = parseRef(terminals?.[terminal] ?? '');
  if (!ref) return null;
  const { feeds, grounds } = pairing.side(ref.side);
  return feeds.has(ref.name) ? 'battery' : grounds.has(ref.name) ? 'ground' : null;
}

function exchanged(terminals: Readonly<Record<string, string>>): Record<string, string> {
  const names: Readonly<Record<string, string>> = { '85': '86', '86': '85' };
  return Object.fromEntries(Object.entries(terminals).map(([terminal, ref]) => [names[terminal] ?? terminal, ref]));
}

function relay(terminals: Record<string, string>) {
  return loadCase({
    loadA: 2,
    fuseA: 5,
    source: {
      electrical: { class: 'switched-ground', activeLevel: 'low', maxA: 1 },
      meaning: { active: 'On', inactive: 'Off' },
    },
    route: { via: ['k1'] },
    harness: {
      connectors: [],
      circuits: [],
      nodes: [{ id: 'nk', kind: 'part', part: 'k1' }],
      segments: [{ id: 's2', from: 'n7', to: 'nk', lengthM: 1, maxC: 85 }],
      parts: [
        {
          id: 'k1',
          title: 'Heater relay',
          kind: 'relay',
          coilBy: 'host:contact',
          ohm: 90,
          ampere: 20,
          suppressed: true,
          terminals,
        },
      ],
    },
  });
}
