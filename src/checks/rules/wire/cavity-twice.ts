import { cavityClaims, connectorSubject, isSameNet, moveToFree } from '../../cavity-claims.ts';
import { commonPractice, named, read, type Draft, type Rule } from '../../rule.ts';
import { harnessCase, supplyCase } from '../../examples/harness-case.ts';

export const rule: Rule = {
  id: 'wire/cavity-twice',
  severity: 'stop',
  title: 'Two circuits in one cavity',
  why: 'One cavity takes one terminal. Two circuits that are written into it are joined, or one of them is left out by whoever builds the harness: a network line on a fuel sender.',
  sources: [
    commonPractice('a wire end is known by its connector and cavity'),
    read('Crimp handbook: a double crimp is no better than its smallest conductor'),
  ],
  check: {
    harness({ pairing }, plan) {
      const drafts: Draft[] = [];
      for (const [place, claims] of cavityClaims(pairing).byPlace) {
        if (claims.length < 2) continue;
        const [first] = claims;
        const second = claims.find(
          (one) => one !== first && !isSameNet(one, first!) && (one.mask & first!.mask) !== 0n,
        );
        if (!second) continue;
        const movable = second.move === null ? first! : second;
        drafts.push({
          subject: connectorSubject(first!.connector),
          message: `cavity ${place} holds ${claims.map(({ what }) => what).join(' and ')}`,
          mask: first!.mask & second.mask,
          values: [named('cavity', place), ...claims.map(({ what }) => named('circuit', what))],
          mend: moveToFree(pairing, movable, plan.find(movable.connector)),
        });
      }
      return drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'The ground of the interface module is written into the cavity of its feed.',
      documents: supplyCase({ module: { groundAt: { connector: 'XM1', cavity: '3' } } }),
      expect: ['connector:XM1'],
    }),
    passing: () => ({ says: 'One circuit a cavity.', documents: harnessCase(), expect: [] }),
  },
};
