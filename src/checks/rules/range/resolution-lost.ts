import { compare, mul, toRational, type Rational } from '../../../number/index.ts';
import { namedNumber, text } from '../../numbers.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

/** Of the function's usual range: what a reader may lose (common practice). */
const TOLERANCE = toRational('0.005');

export const rule: Rule = {
  id: 'range/resolution-lost',
  severity: 'look',
  title: 'Rounding into the target is coarser than the function needs',
  why: 'Steps of 0.4 % of the pedal make torque steps at tip-in. The tolerance is 0.5 % of the function’s usual range, as common practice; without one it cannot be judged and nothing is said but for a target four times coarser than its source.',
  sources: [
    { source: 'SAE J1939 SPN 91: 0.4 % per bit (transcription)', provenance: 'read' },
    commonPractice('0.5 % of the usual range'),
  ],
  check: {
    route(context, route) {
      const { worstError, sources, target } = context.analysis(route);
      if (worstError === null || worstError.physical.num === 0n) return null;
      const entry = context.functionOf(route);
      const range = entry?.typicalRange;
      const [source] = sources;
      if (range && target?.kind === 'number' && target.unitText === entry.unit) {
        const tolerable = mul(toRational(range[1] - range[0]), TOLERANCE);
        if (compare(worstError.physical, tolerable) <= 0) return null;
        return [
          draft(
            context,
            route,
            worstError.physical,
            worstError.unit,
            tolerable,
            `0.5 % of the usual ${range[0]} … ${range[1]} ${entry.unit}`,
          ),
        ];
      }
      if (source?.kind !== 'number' || target?.kind !== 'number' || !source.resolution || !target.resolution)
        return null;
      if (source.unit !== target.unit) return null;
      const four = mul(source.resolution, toRational(4));
      if (compare(target.resolution, four) < 0) return null;
      return [
        draft(
          context,
          route,
          worstError.physical,
          worstError.unit,
          four,
          'four steps of the source; the function has no usual range to judge by',
        ),
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'Oil temperature arrives in steps of 5 °C.',
      documents: numberCase({ target: { factor: 5, range: [-40, 210], notAvailable: [255] } }),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'It arrives in steps of 1 °C.', documents: numberCase(), expect: [] }),
  },
};

type Check = NonNullable<Rule['check']['route']>;

function draft(
  context: Parameters<Check>[0],
  route: Parameters<Check>[1],
  error: Rational,
  unit: string,
  tolerable: Rational,
  why: string,
) {
  return {
    message: `${route.id}: rounding changes a value by up to ${text(error)} ${unit}; tolerable is ${text(tolerable)} (${why})`,
    mask: context.maskOf(route),
    values: [
      namedNumber('worst error', error, unit),
      namedNumber('tolerable', tolerable, unit),
      named('judged by', why),
    ],
  };
}
