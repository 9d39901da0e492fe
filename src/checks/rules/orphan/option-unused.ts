import type { Condition, Platform } from '../../../model/index.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { mendBy } from '../../mends.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'orphan/option-unused',
  severity: 'look',
  title: 'Option, or a choice of it, that nothing depends on',
  why: 'An option that changes nothing was forgotten in a condition, or need not be there.',
  sources: [commonPractice()],
  check: {
    option(context, axis) {
      const used = choicesUsed(context, axis.id);
      const mend = mendBy(`take the option ${axis.id} out`, {
        do: 'remove',
        in: 'map',
        path: ['options', { id: axis.id }],
      });
      if (used.size === 0) {
        return [
          {
            message: `nothing in the map or the platforms depends on the option ${axis.id}`,
            values: [named('option', axis.id)],
            mend,
          },
        ];
      }
      // With two choices the one unnamed is the other; with more, one that no condition names is suspect.
      const unnamed = axis.choices.filter((choice) => !used.has(choice));
      if (axis.choices.length < 3 || unnamed.length < 2) return null;
      return [
        {
          message: `no condition names ${unnamed.join(', ')} of the option ${axis.id}: the map treats ${unnamed.length === 2 ? 'both' : 'all'} alike`,
          values: unnamed.map((choice) => named('choice', choice)),
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'The map has a drivetrain option, and nothing depends on it.',
      documents: numberCase({ map: { options: [{ id: 'drivetrain', choices: ['2wd', '4wd'] }] } }),
      expect: ['option:drivetrain'],
    }),
    passing: () => ({
      says: 'The route is there with four-wheel drive only, and left out without.',
      documents: numberCase({
        map: {
          options: [{ id: 'drivetrain', choices: ['2wd', '4wd'] }],
          leftOut: [{ signal: 'host:ToCluster.OilTemp', reason: 'no such sensor', when: { drivetrain: ['2wd'] } }],
        },
        route: { when: { drivetrain: ['4wd'] } },
      }),
      expect: [],
    }),
  },
};

type Context = Parameters<NonNullable<Rule['check']['option']>>[0];
type Conditioned = { readonly when?: Readonly<Record<string, readonly string[]>> };

function choicesUsed(context: Context, axis: string): ReadonlySet<string> {
  const { map, host, donor } = context.pairing;
  const used = new Set<string>();
  const take = ({ when }: Conditioned): void => {
    if (when && Object.hasOwn(when, axis)) for (const choice of when[axis] ?? []) used.add(choice);
  };
  const parts = map.harness?.parts ?? [];
  const connectors = map.harness?.connectors ?? [];
  for (const list of [map.routes, map.transmits, map.leftOut ?? [], map.interfaceModules, parts, connectors]) {
    list.forEach(take);
  }
  for (const impossible of map.impossible ?? []) take({ when: impossible });
  for (const { platform } of [host, donor]) for (const when of conditionsOf(platform)) take({ when });
  return used;
}

const conditions = new WeakMap<Platform, readonly Condition[]>();

/** Every condition a platform holds; few have any, and they are asked for after each edit. */
function conditionsOf(platform: Platform): readonly Condition[] {
  const known = conditions.get(platform);
  if (known) return known;
  const found: Condition[] = [];
  const take = ({ when }: { readonly when?: Condition }): void => {
    if (when) found.push(when);
  };
  const { modules, messages, wires, connectors, feeds, grounds } = platform;
  for (const list of [modules, messages, wires, connectors, feeds, grounds]) list.forEach(take);
  for (const { signals } of messages) signals.forEach(take);
  conditions.set(platform, found);
  return found;
}
