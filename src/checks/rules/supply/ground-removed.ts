import { mendBy } from '../../mends.ts';
import { groundAt, ownerOfGround } from '../../supplies.ts';
import { commonPractice, named, type Rule } from '../../rule.ts';
import { harnessCase } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'supply/ground-removed',
  severity: 'stop',
  title: 'Ground path goes with a module that is removed',
  why: 'What was grounded through a controller that is taken out has no return any more: it reads as open, or finds another way through something else.',
  sources: [commonPractice('follow every return to a point that stays in the vehicle')],
  check: {
    wire({ pairing }, { wire, side, ref }) {
      if (wire.ground === undefined || pairing.fateOf(side, wire.module) === 'removed') return null;
      const ground = pairing.side(side).grounds.get(wire.ground);
      const owner = ground ? ownerOfGround(pairing, side, ground) : null;
      if (owner === null || pairing.fateOf(side, owner) !== 'removed') return null;
      return [
        {
          message: `${ref} is grounded by ${side}:${wire.ground} (${ground!.title ?? wire.ground}), which goes with ${side}:${owner}`,
          mask: pairing.options.maskOf(wire.when),
          values: [named('wire', ref), named('ground', `${side}:${wire.ground}`), named('removed', `${side}:${owner}`)],
        },
      ];
    },
    interface({ pairing }, owner) {
      const found = groundAt(pairing, owner.ground);
      if (!found) return null;
      const of = ownerOfGround(pairing, found.side, found.ground);
      if (of === null || pairing.fateOf(found.side, of) !== 'removed') return null;
      const other = [...pairing.side(found.side).grounds.values()].find(
        (ground) => ground.kind === 'power' && ownerOfGround(pairing, found.side, ground) === null,
      );
      return [
        {
          message: `${owner.title} (${owner.id}) is grounded by ${owner.ground}, which goes with ${found.side}:${of}`,
          mask: pairing.options.maskOf(owner.when),
          values: [named('module', owner.id), named('ground', owner.ground!), named('removed', `${found.side}:${of}`)],
          mend: other
            ? mendBy(`ground ${owner.id} at ${found.side}:${other.id}`, {
                do: 'set',
                in: 'map',
                path: ['interfaceModules', { id: owner.id }, 'ground'],
                to: `${found.side}:${other.id}`,
              })
            : null,
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'The button returns through the old engine controller, which is removed.',
      documents: button('old-ecm'),
      expect: ['host:button'],
    }),
    passing: () => ({ says: 'It returns to a stud of the body.', documents: button(undefined), expect: [] }),
  },
};

function button(of: string | undefined) {
  return harnessCase({
    source: { ground: 'G7' },
    host: {
      grounds: [{ id: 'G7', title: 'Return of the button', kind: 'power', of, stud: 'G7', documents: ['sheet-1'] }],
    },
  });
}
