import { CAN_TWIST, type PlannedConductor, type WiringPlan } from '../../../wiring/index.ts';
import { circuitRef, circuitWords, rounded, setCircuit } from '../../circuits.ts';
import { fromMemory, named, type Draft, type Rule } from '../../rule.ts';
import { harnessCase } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'wire/bus-not-twisted',
  severity: 'fix',
  title: 'Network conductor is not twisted with its partner',
  why: 'The pair picks up the same disturbance on both conductors only while they lie twisted: 33 to 50 turns a metre, and no more than 50 mm open at the ends. Apart, an ignition or a motor is read as frames with errors.',
  sources: [fromMemory(CAN_TWIST.source)],
  check: {
    harness({ pairing }, plan) {
      const drafts: Draft[] = plan.conductors.flatMap((conductor) => {
        const { circuit, lengthM } = conductor;
        const line = lineOf(conductor);
        if (line === null || circuit.twistGroup !== null) return [];
        // What is shorter than the open ends need not be twisted.
        if (lengthM !== null && lengthM * 1000 <= CAN_TWIST.untwistedMaxMm) return [];
        const partner = partnerOf(plan, conductor, line);
        return [
          {
            subject: circuitRef(circuit),
            message: `${circuitWords(circuit)} is a ${line} line${lengthM === null ? '' : ` of ${rounded(lengthM)} m`} and is twisted with none; ${CAN_TWIST.untwistedMaxMm} mm may be open${partner ? `. Its partner is ${partner.circuit.id}` : ''}`,
            mask: circuit.mask,
            values: [
              named('conductor', circuit.id),
              named('line', line),
              ...(lengthM === null ? [] : [named('length', rounded(lengthM), 'm')]),
              named('open at most', CAN_TWIST.untwistedMaxMm, 'mm'),
            ],
            mend: partner
              ? setCircuit(
                  pairing,
                  circuit,
                  'conductor',
                  { twistedWith: partner.circuit.id },
                  `twist ${circuit.id} with ${partner.circuit.id}`,
                )
              : null,
          },
        ];
      });
      for (const side of [pairing.host, pairing.donor]) {
        for (const { id, title, twisted } of side.platform.buses) {
          if (twisted !== false) continue;
          drafts.push({
            subject: `bus:${side.name}:${id}`,
            message: `${title ?? id} is stated not to be twisted`,
            values: [named('network', `${side.name}:${id}`)],
          });
        }
      }
      return drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'Two network lines led across as single conductors.',
      documents: pairCase(undefined),
      expect: ['circuit:101', 'circuit:102'],
    }),
    passing: () => ({ says: 'Twisted with each other.', documents: pairCase('102'), expect: [] }),
  },
};

const LINES: Readonly<Record<string, 'high' | 'low'>> = { 'can-high': 'high', 'can-low': 'low' };

function lineOf({ circuit }: PlannedConductor): 'high' | 'low' | null {
  return LINES[circuit.fromElectrical?.class ?? ''] ?? LINES[circuit.toElectrical?.class ?? ''] ?? null;
}

function connectorsOf({ circuit }: PlannedConductor): string {
  return [circuit.from, circuit.to]
    .map((end) => (end.kind === 'cavity' ? end.connector : end.kind === 'splice' ? 'splice' : end.key))
    .sort()
    .join(' ');
}

/** The other line between the same two connectors. */
function partnerOf({ conductors }: WiringPlan, own: PlannedConductor, line: 'high' | 'low'): PlannedConductor | null {
  const wanted = line === 'high' ? 'low' : 'high';
  const between = connectorsOf(own);
  const fitting = conductors.filter((one) => lineOf(one) === wanted && connectorsOf(one) === between);
  return fitting.length === 1 ? fitting[0]! : null;
}

function pairCase(twistedWith: string | undefined) {
  const high = { class: 'can-high' } as const;
  const low = { class: 'can-low' } as const;
  const plain = { meaning: undefined, function: undefined } as const;
  return harnessCase({
    source: { ...plain, electrical: high, ground: undefined },
    target: { ...plain, electrical: high },
    hostWires: [
      {
        id: 'low-out',
        title: 'Network, low',
        module: 'idle-button',
        direction: 'out',
        electrical: low,
        at: { connector: 'C7', cavity: '2' },
        documents: ['sheet-1'],
      },
    ],
    donorWires: [
      {
        id: 'low-in',
        title: 'Network, low',
        module: 'engine',
        direction: 'in',
        driver: 'old-panel',
        electrical: low,
        at: { connector: 'C1', cavity: '2' },
        documents: ['sheet-1'],
      },
    ],
    routes: [{ id: 'low', from: ['host:low-out'], to: 'donor:low-in', carrier: 'hard-wire', measured: true }],
    circuit: { conductor: { size: '0.5mm2', colour: 'YE', twistedWith } },
    circuits: [{ id: '102', of: 'route:low/1', label: '102 LOW', conductor: { size: '0.5mm2', colour: 'GN' } }],
  });
}
