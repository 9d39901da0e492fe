import { commonPractice, named, type Rule } from '../../rule.ts';
import { intervalText } from '../../numbers.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'range/sign-lost',
  severity: 'stop',
  title: 'Values below zero arrive where there are none',
  why: 'Drag torque, reverse speed, left against right: a target without negative values turns them into zero, or the other direction.',
  sources: [
    { source: 'SAE J1939 SPN 513: torque with offset −125 % (transcription)', provenance: 'read' },
    commonPractice(),
  ],
  check: {
    route(context, route) {
      const { signLost, delivered, target } = context.analysis(route);
      if (
        !signLost ||
        delivered?.kind !== 'number' ||
        target?.kind !== 'number' ||
        !delivered.interval ||
        !target.interval
      )
        return null;
      return [
        {
          message: `${route.id} delivers ${intervalText(delivered.interval, delivered.unitText)}, and ${route.to} has ${intervalText(target.interval, target.unitText)}: nothing below zero`,
          mask: context.maskOf(route),
          values: [
            named('delivered', intervalText(delivered.interval, delivered.unitText)),
            named('target', intervalText(target.interval, target.unitText)),
          ],
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'The target has no temperature below 0 °C.',
      documents: numberCase({ target: { offset: 0, range: [0, 250] } }),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'It has them down to −40 °C.', documents: numberCase(), expect: [] }),
  },
};
