import { labelText, type PlannedConductor } from '../../../wiring/index.ts';
import { circuitRef, setCircuit } from '../../circuits.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { buttonWire, harnessCase, inputWire } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'wire/label-not-unique',
  severity: 'look',
  title: 'Label of a conductor does not tell it from another',
  why: 'Blue conductors with one label, or with none, cannot be told apart in the vehicle: whoever repairs them guesses.',
  sources: [commonPractice('a label at both ends of every conductor, its number first')],
  check: {
    harness({ pairing }, plan) {
      const byOwn = new Map<string, PlannedConductor[]>();
      const drafts: Draft[] = [];
      for (const conductor of plan.conductors) {
        const { circuit } = conductor;
        if (circuit.label === null) continue;
        if (circuit.label.trim() === '') {
          drafts.push(draftOf(pairing, conductor, `${circuit.id} has an empty label`));
          continue;
        }
        const same = (byOwn.get(circuit.label) ?? []).find((one) => (one.circuit.mask & circuit.mask) !== 0n);
        byOwn.set(circuit.label, [...(byOwn.get(circuit.label) ?? []), conductor]);
        if (same) {
          drafts.push(
            draftOf(pairing, conductor, `${same.circuit.id} and ${circuit.id} are both labelled "${circuit.label}"`),
          );
        }
      }
      return drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'A second conductor was copied with its label.',
      documents: two('101 IDLE-UP'),
      expect: ['circuit:102'],
    }),
    passing: () => ({ says: 'Each has its own.', documents: two('102 SECOND'), expect: [] }),
  },
};

function draftOf(pairing: Parameters<typeof setCircuit>[0], { circuit }: PlannedConductor, message: string): Draft {
  return {
    subject: circuitRef(circuit),
    message,
    mask: circuit.mask,
    values: [named('conductor', circuit.id), named('label', circuit.label ?? '')],
    mend: setCircuit(
      pairing,
      circuit,
      'label',
      circuit.id,
      `label it ${labelText({ ...circuit, label: circuit.id }, circuit.from)}`,
    ),
  };
}

function two(label: string) {
  return harnessCase({
    hostWires: [buttonWire({ id: 'button-2', at: { connector: 'C7', cavity: '2' }, function: undefined })],
    donorWires: [inputWire({ id: 'in-2', at: { connector: 'C1', cavity: '2' }, function: undefined })],
    routes: [{ id: 'second', from: ['host:button-2'], to: 'donor:in-2', carrier: 'hard-wire', measured: true }],
    circuits: [{ id: '102', of: 'route:second/1', label, conductor: { size: '0.5mm2', colour: 'BU-WH' } }],
  });
}
