import { namedNumber, text } from '../../numbers.ts';
import { insertStep } from '../../step-mends.ts';
import { toExact } from '../../../number/index.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'range/clipped',
  severity: 'fix',
  title: 'Part of the source range lies beyond the target',
  why: 'Values beyond arrive as the end of the target: an 8-bit tachometer at 32 rev/min per bit ends at 8160, cold below an unsigned field without offset reads 0. A limit step declares that this is meant; wrapping is not possible, every write saturates.',
  sources: [
    { source: 'Computed: 255 · 32 = 8160; a 0 … 255 field at −10 °C', provenance: 'computed' },
    commonPractice('a clamp is declared'),
  ],
  check: {
    route(context, route) {
      const { clips, stages, delivered } = context.analysis(route);
      if (clips.length === 0 || delivered?.kind !== 'number') return null;
      // A limit or a clamped curve as the last word is a clamp that somebody meant.
      const meant = stages.some(({ step }) => step.do === 'limit');
      if (meant) return null;
      return clips.map((clip) => {
        const low = clip.wouldBe.num * clip.targetEnd.den < clip.targetEnd.num * clip.wouldBe.den;
        return {
          message: `${route.id}: ${clip.of === 'source' ? 'source' : 'delivered'} values ${text(clip.from)} … ${text(clip.to)} ${clip.unit} arrive as ${text(clip.targetEnd)} ${clip.targetUnit}, the ${low ? 'low' : 'high'} end of ${route.to}`,
          mask: context.maskOf(route),
          values: [
            namedNumber('from', clip.from, clip.unit),
            namedNumber('to', clip.to, clip.unit),
            namedNumber('target end', clip.targetEnd, clip.targetUnit),
            namedNumber('would be', clip.wouldBe, clip.targetUnit),
            named('end', low ? 'low' : 'high'),
          ],
          mend: insertStep(
            route,
            null,
            {
              do: 'limit',
              ...(low ? { min: toExact(clip.targetEnd) } : { max: toExact(clip.targetEnd) }),
              unit: clip.targetUnit,
            },
            'declare that it is meant, by a limit step',
          ),
        };
      });
    },
  },
  examples: {
    failing: () => ({
      says: 'The target ends at 150 °C, the source at 210 °C.',
      documents: numberCase({ target: { range: [-40, 150] } }),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'Both have one range.', documents: numberCase(), expect: [] }),
  },
};
