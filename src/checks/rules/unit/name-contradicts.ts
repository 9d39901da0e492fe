import { QUANTITIES, findUnit, type QuantityName } from '../../../units/index.ts';
import { findFunction, signalKind, type Signal } from '../../../model/index.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

/** Words in a signal's name, and what the unit may measure then. Checked in this order; the first that fits decides. */
const WORDS: readonly (readonly [RegExp, readonly QuantityName[]])[] = [
  [/temp/i, ['temperature', 'temperature-difference', 'temperature-rate']],
  [/press/i, ['pressure', 'gauge-pressure', 'pressure-rate']],
  [/volt/i, ['voltage', 'voltage-rate', 'ratio']],
  [/current|amps/i, ['current', 'current-rate', 'charge', 'gear', 'ratio', 'torque', 'count']],
  [/torque/i, ['torque', 'torque-rate', 'ratio', 'energy', 'acceleration']],
  [/rpm/i, ['rotation', 'angular-acceleration', 'frequency']],
];

export const rule: Rule = {
  id: 'unit/name-contradicts',
  severity: 'fix',
  title: 'Name or function of a signal says another quantity than its unit',
  why: 'A table once called a battery voltage “current”: name and unit that disagree mean that one of them was copied wrongly.',
  sources: [
    { source: 'A public parameter table against the standard (SPN 158)', provenance: 'read' },
    commonPractice(),
  ],
  check: {
    message(context, { message, ref }) {
      // Only what the map uses: a database may hold many others.
      if (!context.isRouted(ref)) return null;
      const drafts: Draft[] = [];
      const { routesFrom, routesTo } = context.pairing;
      for (const signal of message.signals) {
        if (signal.unit === '') continue;
        const signalRef = `${ref}.${signal.id}`;
        if (!routesFrom.has(signalRef) && !routesTo.has(signalRef)) continue;
        if (signalKind(signal) !== 'number') continue;
        const says = contradiction(signal);
        if (says === null) continue;
        drafts.push({
          subject: signalRef,
          message: `${signalRef} ${says}, but its unit ${signal.unit} measures ${quantityTitle(signal.unit)}`,
          values: [named('signal', signalRef), named('unit', signal.unit)],
        });
      }
      return drafts.length === 0 ? null : drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'A battery current in volts.',
      documents: numberCase({
        source: { id: 'BatteryCurrent', unit: 'V', factor: 0.1, offset: 0, range: [0, 25], function: undefined },
        target: { unit: 'V', factor: 0.1, offset: 0, range: [0, 25], id: 'Battery', function: undefined },
      }),
      expect: ['donor:FromEngine.BatteryCurrent'],
    }),
    passing: () => ({ says: 'A temperature in degrees Celsius.', documents: numberCase(), expect: [] }),
  },
};

function contradiction(signal: Signal): string | null {
  const quantity = findUnit(signal.unit)?.unit.quantity;
  if (quantity === undefined) return null;
  const wanted = findFunction(signal.function);
  if (wanted?.kind === 'numeric') {
    const of = findUnit(wanted.unit)?.unit.quantity;
    if (of !== undefined && of !== quantity && !alike(of, quantity))
      return `bears the function ${wanted.id} (${wanted.unit})`;
    return null;
  }
  const word = WORDS.find(([pattern]) => pattern.test(signal.id));
  return word && !word[1].includes(quantity) ? `is named after ${word[1][0]!.replaceAll('-', ' ')}` : null;
}

/** Functions may come as a share instead of an amount, as gauge or absolute, as shaft or road speed. */
function alike(a: QuantityName, b: QuantityName): boolean {
  const families: readonly (readonly QuantityName[])[] = [
    [
      'ratio',
      'torque',
      'volume',
      'voltage',
      'count',
      'rotation',
      'distance',
      'frequency',
      'resistance',
      'acceleration',
      'mass',
    ],
    ['pressure', 'gauge-pressure'],
    ['speed', 'rotation', 'frequency', 'pulses-per-distance', 'count-rate'],
    ['volume-flow', 'mass-flow', 'fuel-consumption', 'fuel-economy'],
    ['torque', 'energy'],
  ];
  return families.some((family) => family.includes(a) && family.includes(b));
}

function quantityTitle(unit: string): string {
  const quantity = findUnit(unit)?.unit.quantity;
  return quantity === undefined ? 'something unknown' : `a ${QUANTITIES[quantity].title}`;
}
