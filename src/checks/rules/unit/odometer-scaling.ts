import { equals, mul, toRational, compare, abs, sub } from '../../../number/index.ts';
import { affineText } from '../../numbers.ts';
import { lawAndPractice } from '../../law.ts';
import { removeStep } from '../../step-mends.ts';
import { commonPractice, named, read, type Draft, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

const DISTANCE = new Set(['distance-travelled', 'vehicle-speed', 'wheel-speeds', 'transmission-output-speed']);

export const rule: Rule = {
  id: 'unit/odometer-scaling',
  severity: 'stop',
  title: 'Scaling changes what speedometer or odometer registers',
  why: 'The odometer must register the distance driven. Only a correction that makes it true, for tyre and axle ratio as built, may stand, and its reason with the measured figures belongs in the note.',
  sources: [
    read('49 USC 32703(1)'),
    read('UN R39, 5.3'),
    commonPractice('tyre circumference and axle ratio from the build record'),
  ],
  check: {
    route(context, route) {
      const entry = context.functionOf(route);
      if (!entry || !DISTANCE.has(entry.id)) return null;
      const drafts: Draft[] = [];
      for (const { index, step, input, output } of context.analysis(route).stages) {
        if (step.do !== 'linear') continue;
        const [from] = input;
        const [to] = output;
        if (from?.kind !== 'number' || to?.kind !== 'number' || !from.unit || !to.unit || from.unit !== to.unit)
          continue;
        const factor = toRational(step.factor);
        if (equals(factor, ONE) && Number(step.offset) === 0) continue;
        const isDistance = entry.id === 'distance-travelled';
        const justified = (route.note ?? '').trim().length > 0;
        if (justified && !isDistance) continue;
        drafts.push({
          severity: isDistance || compare(abs(sub(factor, ONE)), mul(ONE, toRational('0.25'))) > 0 ? 'stop' : 'fix',
          message: `${route.id}, step ${index + 1} scales ${entry.title} by ${affineText({ factor, offset: toRational(step.offset) })} in one unit${justified ? '' : ', and no note says why'}`,
          because: lawAndPractice(entry, context.classOf(entry)),
          mask: context.maskOf(route),
          values: [named('function', entry.id), named('factor', String(step.factor)), named('unit', step.unit)],
          mend: removeStep(route, index, 'take the scaling out'),
        });
      }
      return drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'A scaling halves the distance that is registered.',
      documents: distance([{ do: 'linear', factor: 0.5, offset: 0, unit: 'km' }]),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'The distance goes over as it is.', documents: distance([]), expect: [] }),
  },
};

const ONE = toRational(1);

function distance(steps: NonNullable<NonNullable<Parameters<typeof numberCase>[0]>['route']>['steps']) {
  const field = {
    bits: { start: 0, length: 24, order: 'little' },
    offset: 0,
    unit: 'km',
    range: [0, 1000000],
    notAvailable: [16777215],
    function: 'distance-travelled',
  } as const;
  return numberCase({
    source: { ...field, range: [0, 1000000], notAvailable: [16777215] },
    target: { ...field, range: [0, 1000000], notAvailable: [16777215] },
    route: { steps, onLoss: { do: 'hold' }, staleAfterMs: 1000 },
  });
}
