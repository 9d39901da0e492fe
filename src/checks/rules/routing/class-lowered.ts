import { CARRIER_RULES, CRITICALITIES, findFunction } from '../../../model/index.ts';
import { lawAndPractice } from '../../law.ts';
import { mendBy } from '../../mends.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'routing/class-lowered',
  severity: 'stop',
  title: 'Map lowers the class or carrier rule of a function',
  why: 'A map may raise a class, never lower it: every check goes on with the class of the catalogue. Answer the single findings instead, with reason and names.',
  sources: [commonPractice('the class of the function catalogue is the least')],
  check: {
    map(context, map) {
      return (map.classes ?? []).flatMap((entry) => {
        const known = findFunction(entry.function);
        if (!known) return [];
        const lowered: string[] = [];
        if (entry.criticality && CRITICALITIES.indexOf(entry.criticality) > CRITICALITIES.indexOf(known.criticality)) {
          lowered.push(`criticality ${known.criticality} to ${entry.criticality}`);
        }
        if (entry.carrierRule && CARRIER_RULES.indexOf(entry.carrierRule) > CARRIER_RULES.indexOf(known.carrierRule)) {
          lowered.push(`carrier rule ${known.carrierRule} to ${entry.carrierRule}`);
        }
        if (
          entry.staleAfterMs !== undefined &&
          known.staleAfterMs !== null &&
          entry.staleAfterMs > known.staleAfterMs
        ) {
          lowered.push(`tolerable age ${known.staleAfterMs} ms to ${entry.staleAfterMs} ms`);
        }
        if (lowered.length === 0) return [];
        return [
          {
            subject: `function:${known.id}`,
            message: `the map lowers ${lowered.join(' and ')} for ${known.title}`,
            because: lawAndPractice(known, context.classOf(known)),
            values: lowered.map((text) => named('lowered', text)),
            mend: mendBy(`take the class of ${known.id} out of the map`, {
              do: 'remove',
              in: 'map',
              path: ['classes', { key: 'function', is: known.id }],
            }),
          },
        ];
      });
    },
  },
  examples: {
    failing: () => ({
      says: 'The starter interlock is declared comfort.',
      documents: numberCase({
        map: { classes: [{ function: 'park-neutral-starter-interlock', criticality: 'comfort' }] },
      }),
      expect: ['function:park-neutral-starter-interlock'],
    }),
    passing: () => ({
      says: 'Oil temperature is declared worse than the catalogue has it.',
      documents: numberCase({ map: { classes: [{ function: 'oil-temperature', criticality: 'regulated-display' }] } }),
      expect: [],
    }),
  },
};
