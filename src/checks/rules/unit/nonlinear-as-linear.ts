import type { Wire } from '../../../model/index.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { wireCase } from '../../examples/wire-case.ts';

const CURVED = new Set(['thermistor']);

export const rule: Rule = {
  id: 'unit/nonlinear-as-linear',
  severity: 'fix',
  title: 'Curved sender is taken for a straight line',
  why: 'A straight line through two points of a 10 kΩ thermistor gives 55 °C where it is 39 °C: a measured curve is needed.',
  sources: [
    { source: 'Computed from the thermistor curve: 10 kΩ at 25 °C, 1.07 kΩ at 85 °C', provenance: 'computed' },
    commonPractice(),
  ],
  check: {
    wire(context, { wire, ref }) {
      if (
        !CURVED.has(wire.electrical.class) ||
        !wire.meaning ||
        !('scale' in wire.meaning) ||
        wire.meaning.scale.of !== 'Ohm'
      )
        return null;
      if (!context.pairing.routesFrom.has(ref) && !context.pairing.routesTo.has(ref)) return null;
      return [
        {
          message: `${ref} is a ${wire.electrical.class} with a linear scale; give it a curve of measured points`,
          values: [named('wire', ref), named('class', wire.electrical.class)],
        },
      ];
    },
    route(context, route) {
      const drafts: Draft[] = [];
      for (const { index, step, input } of context.analysis(route).stages) {
        if (step.do !== 'linear') continue;
        const [from] = input;
        if (from?.kind !== 'number' || from.unitText !== 'Ohm') continue;
        const curved = route.from.some((ref) => {
          const source = context.pairing.find(ref);
          return source?.kind === 'wire' && CURVED.has(source.wire.electrical.class);
        });
        if (!curved) continue;
        drafts.push({
          message: `${route.id}, step ${index + 1} draws a straight line through a thermistor; use a curve of measured points`,
          mask: context.maskOf(route),
          values: [named('step', 'linear'), named('class', 'thermistor')],
        });
      }
      return drafts.length === 0 ? null : drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'The thermistor of the source has a factor and an offset.',
      documents: sender(true),
      expect: ['donor:range-contact'],
    }),
    passing: () => ({ says: 'It has the points of its data sheet.', documents: sender(false), expect: [] }),
  },
};

function sender(linear: boolean) {
  const curve: Wire['meaning'] = {
    curve: {
      of: 'Ohm',
      points: [
        [1070, 85],
        [10000, 25],
      ],
    },
    unit: 'Cel',
  };
  const line: Wire['meaning'] = {
    scale: { of: 'Ohm', factor: '-60/8930', offset: 92.19, range: [25, 85] },
    unit: 'Cel',
  };
  return wireCase({
    source: { function: 'coolant-temperature', electrical: { class: 'thermistor' }, meaning: linear ? line : curve },
    target: {
      function: 'coolant-temperature',
      module: 'cluster',
      electrical: { class: 'input-analogue-pull-up' },
      meaning: linear ? line : curve,
    },
  });
}
