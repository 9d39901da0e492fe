import { INSULATIONS } from '../../../wiring/index.ts';
import { circuitRef, circuitWords, setCircuit } from '../../circuits.ts';
import { named, read, fromMemory, type Rule } from '../../rule.ts';
import { harnessCase } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'wire/insulation-too-cold',
  severity: 'fix',
  title: 'Insulation is made for less heat than its zone has',
  why: 'Insulation for 80 °C beside an exhaust at 125 °C softens, creeps under its clamps and lets the conductor through.',
  sources: [
    read('SAE J1128: types of insulation and their temperatures'),
    fromMemory('ISO 6722-1 temperature classes'),
  ],
  check: {
    harness({ pairing }, plan) {
      return plan.conductors.flatMap(({ circuit, insulation, insulationC, ambientC, ambientBy }) => {
        if (insulationC >= ambientC) return [];
        const fitting = INSULATIONS.find(({ maxC }) => maxC > ambientC);
        return [
          {
            subject: circuitRef(circuit),
            message: `${circuitWords(circuit)} has insulation for ${insulationC} °C (${insulation}) and passes a zone of ${ambientC} °C${ambientBy === 'assumed' ? ' (assumed, as no segment states one)' : ''}`,
            mask: circuit.mask,
            values: [
              named('conductor', circuit.id),
              named('insulation', insulation),
              named('insulation to', insulationC, 'Cel'),
              named('zone', ambientC, 'Cel'),
            ],
            mend: fitting
              ? setCircuit(
                  pairing,
                  circuit,
                  'conductor',
                  { insulation: fitting.name, maxC: fitting.maxC },
                  `give ${circuit.id} ${fitting.name} (${fitting.maxC} °C)`,
                )
              : null,
          },
        ];
      });
    },
  },
  examples: {
    failing: () => ({
      says: 'PVC for 80 °C past an exhaust at 125 °C.',
      documents: zone({ insulation: 'PVC', maxC: 80 }),
      expect: ['circuit:101'],
    }),
    passing: () => ({
      says: 'Cross-linked for 150 °C.',
      documents: zone({ insulation: 'cross-linked', maxC: 150 }),
      expect: [],
    }),
  },
};

function zone(conductor: { insulation: string; maxC: number }) {
  return harnessCase({
    segment: { maxC: 125 },
    circuit: { conductor: { size: '0.5mm2', colour: 'BU', ...conductor } },
  });
}
