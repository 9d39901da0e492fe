import type { Circuit, CircuitEnd } from '../../../model/index.ts';
import { connectorSubject } from '../../cavity-claims.ts';
import { setCircuit } from '../../circuits.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { COLOUR_ORDER, type PlannedConductor } from '../../../wiring/index.ts';
import { buttonWire, harnessCase, inputWire } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'wire/colour-twice',
  severity: 'look',
  title: 'One colour twice in one connector',
  why: 'Two conductors of one colour beside each other are exchanged when the connector is pinned or repaired, and look right afterwards.',
  sources: [commonPractice('a wire end is known by connector and cavity; colour is the check on it')],
  check: {
    harness({ pairing }, plan) {
      const drafts: Draft[] = [];
      for (const [connector, held] of byConnector(plan.conductors)) {
        const seen = new Map<string, PlannedConductor[]>();
        for (const conductor of held) {
          const colour = colourOf(conductor);
          const same = (seen.get(colour) ?? []).filter(({ circuit }) => (circuit.mask & conductor.circuit.mask) !== 0n);
          seen.set(colour, [...(seen.get(colour) ?? []), conductor]);
          const first = same[0];
          if (!first || first.circuit.key === conductor.circuit.key) continue;
          const free = freeColour(held, conductor);
          drafts.push({
            subject: connectorSubject(connector),
            message: `${first.circuit.id} and ${conductor.circuit.id} are both ${colour} in ${connector}`,
            mask: first.circuit.mask & conductor.circuit.mask,
            values: [
              named('connector', connector),
              named('colour', colour),
              named('conductor', first.circuit.id),
              named('conductor', conductor.circuit.id),
            ],
            mend:
              free === null
                ? null
                : setCircuit(
                    pairing,
                    conductor.circuit,
                    'conductor',
                    { colour: free },
                    `make ${conductor.circuit.id} ${free}`,
                  ),
          });
        }
      }
      return drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'Two blue conductors leave one connector.',
      documents: two('BU'),
      expect: ['connector:donor:C1', 'connector:host:C7'],
    }),
    passing: () => ({ says: 'Blue, and blue with a white tracer.', documents: two('BU-WH'), expect: [] }),
  },
};

function connectorOf(end: CircuitEnd): string | null {
  return end.kind === 'cavity' ? end.connector : end.kind === 'part' ? end.connector : null;
}

function byConnector(conductors: readonly PlannedConductor[]): Map<string, PlannedConductor[]> {
  const held = new Map<string, PlannedConductor[]>();
  for (const conductor of conductors) {
    for (const end of endsOf(conductor.circuit)) {
      const list = held.get(end);
      if (list) list.push(conductor);
      else held.set(end, [conductor]);
    }
  }
  return held;
}

function endsOf({ from, to }: Circuit): ReadonlySet<string> {
  return new Set([from, to].flatMap((end) => connectorOf(end) ?? []));
}

function colourOf({ colourBase, colourTracer }: PlannedConductor): string {
  return colourTracer === null ? colourBase : `${colourBase}-${colourTracer}`;
}

/** The same base with a tracer that is free in this connector; null when all are taken. */
function freeColour(held: readonly PlannedConductor[], { colourBase }: PlannedConductor): string | null {
  const taken = new Set(held.map(colourOf));
  const free = COLOUR_ORDER.find((tracer) => tracer !== colourBase && !taken.has(`${colourBase}-${tracer}`));
  return free === undefined ? null : `${colourBase}-${free}`;
}

function two(colour: string) {
  return harnessCase({
    hostWires: [buttonWire({ id: 'button-2', at: { connector: 'C7', cavity: '2' }, function: undefined })],
    donorWires: [inputWire({ id: 'in-2', at: { connector: 'C1', cavity: '2' }, function: undefined })],
    routes: [{ id: 'second', from: ['host:button-2'], to: 'donor:in-2', carrier: 'hard-wire', measured: true }],
    circuits: [{ id: '102', of: 'route:second/1', label: '102 SECOND', conductor: { size: '0.5mm2', colour } }],
  });
}
