import { parseRef } from '../../../model/index.ts';
import { mergeCases, physicalCases } from '../../bus-physics.ts';
import { CAN_TERMINATION } from '../../../wiring/index.ts';
import {
  addTerminators,
  nameOf,
  pairText,
  TERMINATION_SOURCES,
  terminationValues,
  terminatorsText,
} from '../../terminations.ts';
import type { Rule } from '../../rule.ts';
import { copperCase, harnessWith, terminator } from '../../examples/bus-case.ts';

export const rule: Rule = {
  id: 'bus/termination-removed',
  severity: 'stop',
  title: 'Removed module takes a terminator of the bus with it',
  why: 'A terminator often sits in the module at the end of the bus, and there the added harness taps it. With the module goes the terminator: 120 Ω across the pair instead of 60 Ω, or none at all, and frames that fail when it is hot, wet or long.',
  sources: TERMINATION_SOURCES,
  check: {
    bus(context, { side, bus }) {
      const cases = physicalCases(context, `${side}:${bus.id}`).filter(
        ({ terminators, removed }) => removed.length > 0 && terminators.length < CAN_TERMINATION.count,
      );
      return mergeCases(cases, (one) => terminatorsText(one.terminators)).map((one) => {
        const modules = one.removed.map(({ at }) => parseRef(at)?.name ?? at);
        const tapped = one.buses.some((is) => {
          const place = parseRef(is.ref);
          const tap = place ? context.pairing.side(place.side).buses.get(place.name)?.tap : undefined;
          return tap?.module !== undefined && one.removed.some(({ at }) => at === `${place!.side}:${tap.module}`);
        });
        return {
          message: `${nameOf(one)}: ${modules.join(' and ')} ${modules.length === 1 ? 'is' : 'are'} removed and ${modules.length === 1 ? 'takes a terminator' : 'take terminators'} away${tapped ? ', at the tap of the added harness' : ''}; what stays is ${terminatorsText(one.terminators)}, ${pairText(one.terminators)} across the pair`,
          mask: one.mask,
          values: terminationValues(one),
          mend: addTerminators(context.pairing, one),
        };
      });
    },
  },
  examples: {
    failing: () => ({
      says: 'The removed engine controller was one end of the chassis bus.',
      documents: copperCase({
        terminations: [
          { at: 'cluster', ohm: 120 },
          { at: 'old-ecm', ohm: 120 },
        ],
      }),
      expect: ['bus:host:body-can'],
    }),
    passing: () => ({
      says: 'A terminator of the added harness takes its place.',
      documents: copperCase(
        {
          terminations: [
            { at: 'cluster', ohm: 120 },
            { at: 'old-ecm', ohm: 120 },
          ],
        },
        { map: { harness: harnessWith([terminator('t1', 120)]) } },
      ),
      expect: [],
    }),
  },
};
