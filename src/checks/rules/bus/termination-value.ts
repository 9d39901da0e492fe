import { CAN_TERMINATION } from '../../../wiring/index.ts';
import { mergeCases, physicalCases } from '../../bus-physics.ts';
import { nameOf, pairText, setTerminators, terminationValues, terminatorsText } from '../../terminations.ts';
import { named, read, type Rule } from '../../rule.ts';
import { copperCase, harnessWith, terminator } from '../../examples/bus-case.ts';

const { eachOhm, eachMinOhm, eachMaxOhm } = CAN_TERMINATION;

export const rule: Rule = {
  id: 'bus/termination-value',
  severity: 'fix',
  title: 'Terminator of another value than the pair needs',
  why: `A terminator must equal the impedance of the pair, ${eachOhm} Ω. Far from it, edges are reflected; far below, the drivers cannot reach their levels.`,
  sources: [
    read(`ISO 11898 in an equipment manual: each terminator ${eachMinOhm} Ω to ${eachMaxOhm} Ω, ${eachOhm} Ω nominal`),
    read('ISO 11898-2 in transceiver data sheets: 60 Ω across the pair with power off'),
  ],
  check: {
    bus(context, { side, bus }) {
      const outside = (ohm: number): boolean => ohm < eachMinOhm || ohm > eachMaxOhm;
      const wrong = physicalCases(context, `${side}:${bus.id}`).filter(
        ({ terminators }) =>
          terminators.length === CAN_TERMINATION.count && terminators.some(({ ohm }) => outside(ohm)),
      );
      return mergeCases(wrong, (one) => terminatorsText(one.terminators)).map((one) => {
        const those = one.terminators.filter(({ ohm }) => outside(ohm));
        return {
          message: `${nameOf(one)}: ${terminatorsText(those)} in place of ${eachOhm} Ω; ${pairText(one.terminators)} across the pair`,
          mask: one.mask,
          values: [
            ...terminationValues(one),
            named('each at least', eachMinOhm, 'Ohm'),
            named('each at most', eachMaxOhm, 'Ohm'),
          ],
          mend: setTerminators(those),
        };
      });
    },
  },
  examples: {
    failing: () => ({
      says: 'The terminator that takes the place of the removed controller’s has 60 Ω: 40 Ω across the pair.',
      documents: withTerminator(60),
      expect: ['bus:host:body-can'],
    }),
    passing: () => ({ says: 'It has 120 Ω.', documents: withTerminator(120), expect: [] }),
  },
};

function withTerminator(ohm: number) {
  return copperCase(
    {
      terminations: [
        { at: 'cluster', ohm: 120 },
        { at: 'old-ecm', ohm: 120 },
      ],
    },
    { map: { harness: harnessWith([terminator('t1', ohm)]) } },
  );
}
