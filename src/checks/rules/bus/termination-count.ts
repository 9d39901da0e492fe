import { mergeCases, physicalCases, type PhysicalCase } from '../../bus-physics.ts';
import type { CheckContext } from '../../context.ts';
import { CAN_TERMINATION } from '../../../wiring/index.ts';
import {
  addTerminators,
  nameOf,
  pairText,
  removeTerminators,
  TERMINATION_SOURCES,
  terminationValues,
  terminatorsText,
} from '../../terminations.ts';
import { named, type Draft, type Rule } from '../../rule.ts';
import { copperCase, moduleWithPort, TWO_ENDS } from '../../examples/bus-case.ts';

export const rule: Rule = {
  id: 'bus/termination-count',
  severity: 'stop',
  title: 'Bus is not terminated at exactly two ends',
  why: 'Two resistors of 120 Ω, one at each end, end the pair in its own impedance. A third makes 40 Ω of it and the drivers too weak; with one or none the edges ring into the sample point.',
  sources: TERMINATION_SOURCES,
  check: {
    bus(context, { side, bus }) {
      const cases = physicalCases(context, `${side}:${bus.id}`);
      const wrong = cases.filter(({ terminators, removed }) =>
        terminators.length < CAN_TERMINATION.count ? removed.length === 0 : terminators.length > CAN_TERMINATION.count,
      );
      return mergeCases(wrong, (one) => terminatorsText(one.terminators)).flatMap((one): readonly Draft[] => {
        if (!one.buses.some(({ terminationsTold }) => terminationsTold) && one.terminators.length === 0)
          return one.buses.some(({ ref }) => isTouched(context, ref)) ? [notTold(one)] : [];
        return [
          {
            message: `${nameOf(one)}: ${countText(one)}, ${pairText(one.terminators)} across the pair${one.buses.length > 1 ? '; joined, they have their terminators together' : ''}`,
            mask: one.mask,
            values: terminationValues(one),
            mend: removeTerminators(one) ?? addTerminators(context.pairing, one),
          },
        ];
      });
    },
  },
  examples: {
    failing: () => ({
      says: 'The interface module has a terminator too: three of 120 Ω make 40 Ω.',
      documents: copperCase(
        { terminations: TWO_ENDS },
        { map: { interfaceModules: [moduleWithPort({ terminationOhm: 120 })] } },
      ),
      expect: ['bus:host:body-can'],
    }),
    passing: () => ({
      says: 'Cluster and body controller terminate it, the interface module does not.',
      documents: copperCase({ terminations: TWO_ENDS }),
      expect: [],
    }),
  },
};

/** Whether the added harness joins the bus: only then is its copper this pairing's matter. */
function isTouched({ pairing }: CheckContext, ref: string): boolean {
  return pairing.map.interfaceModules.some(({ ports }) => ports.some(({ bus }) => bus === ref));
}

function notTold(one: PhysicalCase): Draft {
  return {
    severity: 'look',
    message: `${nameOf(one)}: no document says where it is terminated; measure 60 Ω across the pair with power off`,
    mask: one.mask,
    values: [named('not known', `terminators of ${one.buses[0]!.ref}`)],
  };
}

function countText({ terminators }: PhysicalCase): string {
  if (terminators.length === 0) return 'no terminator';
  return `${terminators.length} terminator${terminators.length === 1 ? '' : 's'} (${terminatorsText(terminators)})`;
}
