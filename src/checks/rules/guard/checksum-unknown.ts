import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { GUARD, guardedCase } from '../../examples/guarded.ts';

export const rule: Rule = {
  id: 'guard/checksum-unknown',
  severity: 'fix',
  title: 'Checksum algorithm is unknown, or only guessed from traffic',
  why: 'CRC-8 with polynomial 0x1D gives 0x4B or 0x37 for the same bytes by its start value alone; a guess from few frames works until a bit moves that never moved before.',
  sources: [
    {
      source: 'Computed: check values of "123456789" for CRC-8 0x1D (0x4B, 0x37) and 0x2F (0xDF)',
      provenance: 'computed',
    },
    commonPractice('verify against the maker’s specification or recorded frames that move every bit'),
  ],
  check: {
    transmit(context, transmit) {
      const entry = context.pairing.find(transmit.message);
      if (entry?.kind !== 'message') return null;
      const guard = transmit.protection ?? entry.message.protection;
      if (!guard || guard.checksum === undefined) return null;
      const drafts: Draft[] = [];
      const mask = context.pairing.options.maskOf(transmit.when);
      const wanted = entry.message.protection;
      if (guard.algorithm === undefined || guard.algorithm === 'unknown') {
        drafts.push({
          severity: 'stop',
          message: `the checksum ${guard.checksum} of ${transmit.message} has no known algorithm: it cannot be made`,
          mask,
          values: [named('checksum', guard.checksum)],
        });
      } else if (guard.evidence === 'inferred') {
        drafts.push({
          message: `the algorithm ${guard.algorithm} of ${transmit.message} is inferred from traffic, not specified or verified`,
          mask,
          values: [named('algorithm', guard.algorithm), named('evidence', guard.evidence)],
        });
      }
      const differs = (['algorithm', 'covers', 'dataId', 'dataIdAt'] as const).filter(
        (part) =>
          wanted?.[part] !== undefined &&
          transmit.protection !== undefined &&
          JSON.stringify(transmit.protection[part]) !== JSON.stringify(wanted[part]),
      );
      if (differs.length > 0 && wanted && wanted.algorithm !== 'unknown') {
        drafts.push({
          severity: 'stop',
          message: `the checksum of ${transmit.message} is made with another ${differs.join(', ')} than its readers expect`,
          mask,
          values: differs.flatMap((part) => [
            named(`${part} expected`, String(wanted[part])),
            named(`${part} sent`, String(transmit.protection?.[part] ?? 'none')),
          ]),
        });
      }
      return drafts.length === 0 ? null : drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'The algorithm was guessed from recorded frames.',
      documents: guardedCase({ target: { ...GUARD, evidence: 'inferred' } }),
      expect: ['transmit:host:ToCluster'],
    }),
    passing: () => ({ says: 'It is specified.', documents: guardedCase(), expect: [] }),
  },
};
