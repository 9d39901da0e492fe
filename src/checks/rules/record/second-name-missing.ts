import { standingOfWaivers } from '../../waive.ts';
import { commonPractice, fromMemory, named, type Draft, type Rule } from '../../rule.ts';
import { waivedCase } from './waiver-examples.ts';

export const rule: Rule = {
  id: 'record/second-name-missing',
  severity: 'fix',
  title: 'Waiver of a stop has not two names',
  why: 'A finding at which somebody can be hurt is accepted by two people, not by one and not by one under two spellings. Until then the stop stands.',
  sources: [fromMemory('ISO 26262-2: confirmation by a second person (the idea)'), commonPractice()],
  check: {},
  after(context, findings) {
    const drafts: Draft[] = [];
    for (const { waiver, standing } of standingOfWaivers(context.pairing.map.waivers ?? [], findings)) {
      if (standing.kind !== 'one-name') continue;
      drafts.push({
        subject: waiver.subject,
        message: `the waiver of ${waiver.rule} on ${waiver.subject} by ${waiver.by} needs a second, different name ("secondBy"): it answers a stop`,
        values: [named('rule', waiver.rule), named('by', waiver.by), named('second', waiver.secondBy ?? 'none')],
      });
    }
    return drafts;
  },
  examples: {
    failing: () => ({
      says: 'One person waives a stop.',
      documents: waivedCase('stop', {}),
      expect: ['route:the-route'],
      alsoStops: ['unit/not-converted'],
    }),
    passing: () => ({
      says: 'Two people do.',
      documents: waivedCase('stop', { secondBy: 'Second Person' }),
      expect: [],
    }),
  },
};
