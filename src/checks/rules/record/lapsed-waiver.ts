import { mendBy } from '../../mends.ts';
import { standingOfWaivers } from '../../waive.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { waivedCase } from './waiver-examples.ts';

export const rule: Rule = {
  id: 'record/lapsed-waiver',
  severity: 'fix',
  title: 'Waiver no longer answers its finding',
  why: 'The facts it answered have changed, or the finding is gone: what somebody accepted is not what stands there now.',
  sources: [commonPractice('a waiver answers one state of the facts')],
  check: {},
  after(context, findings) {
    const drafts: Draft[] = [];
    for (const { waiver, standing } of standingOfWaivers(context.pairing.map.waivers ?? [], findings)) {
      if (standing.kind !== 'lapsed' && standing.kind !== 'spent') continue;
      // Rules about the record itself come and go with the waivers; they are judged after.
      const gone = standing.kind === 'spent';
      if (gone && waiver.rule.startsWith('record/') && rulesAfter.has(waiver.rule)) continue;
      drafts.push({
        subject: waiver.subject,
        severity: gone ? 'look' : 'fix',
        message: gone
          ? `the waiver of ${waiver.rule} by ${waiver.by} (${waiver.on}) answers nothing any more: the rule finds nothing there`
          : `the waiver of ${waiver.rule} by ${waiver.by} (${waiver.on}) has lapsed: the facts have changed since. Now: ${standing.kind === 'lapsed' ? standing.now.map(({ message }) => message).join(' / ') : ''}`,
        values: [named('rule', waiver.rule), named('by', waiver.by), named('on', waiver.on)],
        mend: mendBy('take the waiver out', {
          do: 'remove',
          in: 'map',
          path: ['waivers', { at: (context.pairing.map.waivers ?? []).indexOf(waiver) }],
        }),
      });
    }
    return drafts;
  },
  examples: {
    failing: () => ({
      says: 'The waiver answers a staleness limit of 60 s; it has become 20 s since.',
      documents: waivedCase('look', { lapsed: true }),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'It answers what stands there.', documents: waivedCase('look', {}), expect: [] }),
  },
};

const rulesAfter: ReadonlySet<string> = new Set(['record/lapsed-waiver', 'record/second-name-missing']);
