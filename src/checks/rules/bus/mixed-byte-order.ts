import { commonPractice, named, type Rule } from '../../rule.ts';
import { numberCase, temperature } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'bus/mixed-byte-order',
  severity: 'look',
  title: 'Fields of both byte orders in one message',
  why: 'One message is mostly laid out in one order: a lone field in the other was often copied with the wrong order or start-bit convention. Bytes 00 19 are 6400 one way and 25 the other.',
  sources: [
    { source: 'Computed on the SPN 190 scale: 800 against 3.1 rev/min', provenance: 'computed' },
    commonPractice(),
  ],
  check: {
    message(context, { message, ref }) {
      if (!context.isRouted(ref)) return null;
      const wide = message.signals.filter(({ bits }) => crossesByte(bits));
      if (wide.length < 2) return null;
      const little = wide.filter(({ bits }) => bits.order === 'little');
      if (little.length === 0 || little.length === wide.length) return null;
      const odd = little.length * 2 <= wide.length ? little : wide.filter(({ bits }) => bits.order === 'big');
      const { routesFrom, routesTo } = context.pairing;
      const used = odd.filter(({ id }) => routesFrom.has(`${ref}.${id}`) || routesTo.has(`${ref}.${id}`));
      if (used.length === 0) return null;
      return [
        {
          message: `${used.map(({ id }) => id).join(', ')} of ${ref} ${used.length === 1 ? 'is' : 'are'} ${used[0]!.bits.order}-endian among fields of the other order`,
          values: used.map(({ id, bits }) => named(id, `${bits.start}|${bits.length} ${bits.order}`)),
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'Two fields are little-endian, the routed one big-endian.',
      documents: orders('big'),
      expect: ['donor:FromEngine'],
    }),
    passing: () => ({ says: 'All three are little-endian.', documents: orders('little'), expect: [] }),
  },
};

function crossesByte({
  start,
  length,
  order,
}: {
  readonly start: number;
  readonly length: number;
  readonly order: string;
}): boolean {
  return order === 'little' ? (start % 8) + length > 8 : length > (start % 8) + 1;
}

function orders(order: 'big' | 'little') {
  const wide = (start: number) => ({ start, length: 16, order: 'little' }) as const;
  const field = { factor: 0.01, range: [-40, 210] as [number, number], notAvailable: [65535] };
  return numberCase({
    source: { ...field, bits: { start: order === 'big' ? 7 : 0, length: 16, order } },
    target: { ...field, bits: wide(0) },
    sourceMessage: {
      signals: [
        temperature({ ...field, bits: { start: order === 'big' ? 7 : 0, length: 16, order } }),
        temperature({ ...field, id: 'Second', bits: wide(16) }),
        temperature({ ...field, id: 'Third', bits: wide(32) }),
      ],
    },
  });
}
