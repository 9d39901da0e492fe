import { SPLICE_HABITS } from '../../../wiring/index.ts';
import { rounded } from '../../circuits.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { harnessCase, inputWire } from '../../examples/harness-case.ts';
import type { RouteInput, WireInput } from '../../examples/documents.ts';

export const rule: Rule = {
  id: 'wire/splice-overloaded',
  severity: 'look',
  title: 'Splice joins too many conductors, or too unequal ones, or has no place',
  why: 'Nine conductors from 4 mm² to 0.35 mm² in one barrel leave the thin ones loose; a splice that lies nowhere is made where there is room, and not found again.',
  sources: [commonPractice('at most five conductors and a ratio of cross-sections of five in one splice')],
  check: {
    harness(_context, plan) {
      return plan.splices().flatMap((row): Draft[] => {
        const { splice, id, node, conductors } = row;
        const areas = conductors.map(({ areaMm2 }) => areaMm2);
        const ratio = Math.max(...areas) / Math.min(...areas);
        const faults = [
          ...(row.tooMany ? [`${conductors.length} conductors, more than ${SPLICE_HABITS.maxWires}`] : []),
          ...(ratio > SPLICE_HABITS.maxAreaRatio
            ? [
                `${rounded(Math.max(...areas))} mm² with ${rounded(Math.min(...areas))} mm², ${rounded(ratio)} times as thick`,
              ]
            : []),
          ...(node === null && plan.graph.nodes.size > 0 ? ['no place on the harness'] : []),
        ];
        if (faults.length === 0) return [];
        return [
          {
            subject: id,
            message: `${splice} (${conductors.map(({ circuit }) => circuit).join(', ')}) has ${faults.join('; ')}`,
            mask: plan.harness.splices.find((one) => one.id === id)?.mask,
            values: [
              named('splice', splice),
              named('conductors', conductors.length),
              named('ratio of cross-sections', rounded(ratio)),
              named('node', node ?? 'none'),
            ],
          },
        ];
      });
    },
  },
  examples: {
    failing: () => ({
      says: 'Six conductors meet in the splice of one button.',
      documents: shared(5),
      expect: ['splice:host:C7/1'],
    }),
    passing: () => ({ says: 'Three meet.', documents: shared(2), expect: [] }),
  },
};

/** One button read by several inputs. */
function shared(readers: number) {
  const more = Array.from({ length: readers - 1 }, (_, at) => at + 2);
  return harnessCase({
    to: { cavities: ['1', '2', '3', '4', '5', '6'] },
    donorWires: more.map((at): WireInput =>
      inputWire({ id: `in-${at}`, at: { connector: 'C1', cavity: String(at) }, function: undefined }),
    ),
    routes: more.map((at): RouteInput => ({
      id: `r${at}`,
      from: ['host:button'],
      to: `donor:in-${at}`,
      carrier: 'hard-wire',
      measured: true,
    })),
  });
}
