import { otherSide, type SideName } from '../../../model/index.ts';
import { lawAndPractice } from '../../law.ts';
import { commonPractice, named, read, type Rule } from '../../rule.ts';
import { bit, flowCase } from '../../examples/signals.ts';

const SIDES: readonly SideName[] = ['host', 'donor'];

export const rule: Rule = {
  id: 'orphan/required-function-missing',
  severity: 'stop',
  title: 'Function the pairing must have is not carried at all',
  why: 'What the law or the map requires has neither a route, nor modules of one side that go on doing it among themselves, nor a reason why it is left out.',
  sources: [read('the law entry of each function in the catalogue'), commonPractice()],
  check: {
    function(context, entry) {
      const demanded = context.pairing.map.requires?.includes(entry.id) ?? false;
      const byLaw = entry.law === 'required';
      if (!demanded && !byLaw) return null;
      // A function on neither platform is asked about once for the whole map.
      const borne = SIDES.some((side) => context.bearers(side, entry.id).length > 0);
      if (!demanded && !borne) return null;
      const native = SIDES.some((side) => {
        const bearers = context.bearers(side, entry.id);
        const sent = bearers.some(
          (bearer) => context.sendersPresent(bearer).length > 0 && context.readersPresent(bearer).length > 0,
        );
        // Done on one side among retained modules; a need of the other side is found as such.
        return (
          sent &&
          context.bearers(otherSide(side), entry.id).every((bearer) => context.sendersPresent(bearer).length === 0)
        );
      });
      if (native) return null;
      const mask =
        context.pairing.options.all & ~context.maskOfFunction(entry.id) & ~context.maskLeftOut(null, entry.id);
      if (mask === 0n) return null;
      // A bearer left out by its own reference answers for the function where it is left out.
      const leftOut = SIDES.flatMap((side) => context.bearers(side, entry.id)).reduce(
        (all, bearer) => all | context.maskLeftOut(bearer.ref, null),
        0n,
      );
      if ((mask & ~leftOut) === 0n) return null;
      return [
        {
          message: `${entry.title} (${entry.id}) is required ${demanded ? 'by the map' : 'by law'}, but no route carries it and no left-out entry says why`,
          because: lawAndPractice(entry, context.classOf(entry)),
          mask: mask & ~leftOut,
          values: [named('function', entry.id), named('law', entry.law)],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'The map requires a reverse lamp, and has no route for one.',
      documents: flowCase({
        toHost: [bit('Reverse', 'reverse-lamp-command')],
        unrouted: ['Reverse'],
        map: { requires: ['reverse-lamp-command'] },
      }),
      expect: ['function:reverse-lamp-command'],
      alsoStops: ['orphan/need-without-route'],
    }),
    passing: () => ({
      says: 'It is knowingly left out, with the reason.',
      documents: flowCase({
        toHost: [bit('Reverse', 'reverse-lamp-command')],
        unrouted: ['Reverse'],
        map: {
          requires: ['reverse-lamp-command'],
          leftOut: [{ function: 'reverse-lamp-command', reason: 'a contact at the lever feeds the lamp' }],
        },
      }),
      expect: [],
    }),
  },
};
