import { parseRef, type Endpoint, type SideName } from '../../../model/index.ts';
import { GROUND_SHIFT_V } from '../../../wiring/index.ts';
import type { CheckContext } from '../../context.ts';
import { rounded } from '../../circuits.ts';
import { fromMemory, named, type Rule } from '../../rule.ts';
import { fitValues } from '../../fits.ts';
import { harnessCase } from '../../examples/harness-case.ts';
import type { WireInput } from '../../examples/documents.ts';

const ANALOGUE: ReadonlySet<string> = new Set([
  'ratiometric-5v',
  'absolute-voltage',
  'thermistor',
  'resistive',
  'resistor-ladder',
]);

export const rule: Rule = {
  id: 'wire/ground-offset',
  severity: 'look',
  title: 'Analogue value is read across two ground points',
  why: 'Between two studs lie tenths of a volt, more when a fan or a starter returns by one of them: the reader adds that to every value. 10 A over 25 mΩ of a shared stud are 0.25 V.',
  sources: [
    fromMemory('ISO 16750-2 clause 4.8: electronics bear a ground offset of ±1 V'),
    { source: 'Computed: 0.2 V of a 5 V scale = 4 %', provenance: 'computed' },
  ],
  check: {
    fit(context, pair) {
      const { fit, from, to, driver, receiver, mask } = pair;
      if (!ANALOGUE.has(fit.driver)) return null;
      // A return of its own runs along: both ends are read against one point.
      if (driver.returnAt !== undefined && receiver.returnAt !== undefined) return null;
      const [a, b] = [groundOf(context, from), groundOf(context, to)];
      if (a === null || b === null || a === b) return null;
      const spanV = Math.abs((receiver.pullToV ?? receiver.maxV ?? 5) - (receiver.minV ?? 0)) || 5;
      const percent = (GROUND_SHIFT_V / spanV) * 100;
      return [
        {
          message: `${from} is grounded at ${a}, and ${to} reads it against ${b}: ${GROUND_SHIFT_V} V between them are ${rounded(percent)} % of the ${rounded(spanV)} V scale`,
          mask,
          values: [
            ...fitValues(pair, []),
            named('ground of the driver', a),
            named('ground of the receiver', b),
            named('offset taken', GROUND_SHIFT_V, 'V'),
            named('error', rounded(percent), '%'),
          ],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'A level sender grounded on the body is read by a controller grounded on the engine.',
      documents: sender({}, {}),
      expect: ['route:the-route'],
    }),
    passing: () => ({
      says: 'Its return runs along to the controller.',
      documents: sender({ returnAt: { connector: 'C7', cavity: '3' } }, { returnAt: { connector: 'C1', cavity: '3' } }),
      expect: [],
    }),
  },
};

/** The ground of a wire or of the module of a pin, as `side:ground`; null when it is not stated. */
function groundOf({ pairing }: CheckContext, ref: string): string | null {
  const entry: Endpoint | null = parseRef(ref) ? pairing.find(ref) : null;
  if (entry?.kind === 'wire') return sideGround(entry.side, entry.wire.ground);
  return pairing.interfaceModules.get(ref.slice(0, ref.indexOf('.')))?.ground ?? null;
}

function sideGround(side: SideName, ground: string | undefined): string | null {
  return ground === undefined ? null : `${side}:${ground}`;
}

function sender(source: Partial<WireInput['electrical']>, target: Partial<WireInput['electrical']>) {
  return harnessCase({
    source: {
      electrical: { class: 'absolute-voltage', minV: 0, maxV: 5, ...source },
      meaning: undefined,
      function: undefined,
    },
    target: {
      electrical: { class: 'input-analogue', minV: 0, maxV: 5, ...target },
      meaning: undefined,
      function: undefined,
      ground: 'K1',
    },
    donor: { grounds: [{ id: 'K1', title: 'Engine block', kind: 'power', stud: 'K1', documents: ['sheet-1'] }] },
  });
}
