import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'record/note-missing',
  severity: 'fix',
  title: 'Decision without a written reason',
  why: 'A class that the map raises, a derivation that the platform overrides, an assumed route, a standing correction: the next reader cannot tell a decision from a slip.',
  sources: [commonPractice('each override says why')],
  check: {
    route(context, route) {
      const why: string[] = [];
      if ((route.note ?? '').trim() !== '') return null;
      if (route.assumed === true) why.push('it is assumed');
      if (route.from.length === 0) why.push('it has no source');
      for (const { index, step, input, output } of context.analysis(route).stages) {
        const [from] = input;
        const [to] = output;
        const correction =
          step.do === 'linear' &&
          from?.kind === 'number' &&
          to?.kind === 'number' &&
          from.unit !== null &&
          from.unit === to.unit;
        if (correction && (Number(step.factor) !== 1 || Number(step.offset) !== 0))
          why.push(`step ${index + 1} corrects a value in one unit`);
      }
      if (why.length === 0) return null;
      return [
        {
          message: `${route.id} has no note, and needs one: ${why.join('; ')}`,
          mask: context.maskOf(route),
          values: why.map((text) => named('needs a reason', text)),
        },
      ];
    },
    need(_context, need) {
      if (need.by !== 'declared') return null;
      const entry = _context.pairing.find(need.ref);
      const note =
        entry?.kind === 'signal'
          ? (entry.signal.note ?? entry.message.note)
          : entry?.kind === 'wire'
            ? entry.wire.note
            : undefined;
      if ((note ?? '').trim() !== '') return null;
      return [
        {
          message: `the platform declares ${need.ref} needed, against the derivation, and no note says why`,
          values: [named('declared', need.ref)],
        },
      ];
    },
    map(_context, map) {
      const drafts: Draft[] = [];
      for (const { function: id, reason } of map.classes ?? []) {
        if ((reason ?? '').trim() !== '') continue;
        drafts.push({
          subject: `function:${id}`,
          message: `the map changes the class of ${id} without a reason`,
          values: [named('function', id)],
        });
      }
      return drafts.length === 0 ? null : drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'A correction of 2 °C stands there without a word.',
      documents: numberCase({
        route: {
          steps: [
            { do: 'linear', factor: 1, offset: 2, unit: 'Cel' },
            { do: 'limit', max: 210, unit: 'Cel' },
          ],
        },
      }),
      expect: ['route:the-route'],
    }),
    passing: () => ({
      says: 'The note says what it is.',
      documents: numberCase({
        route: {
          note: 'sender sits 2 °C below the sump, measured 2026-01-12',
          steps: [
            { do: 'linear', factor: 1, offset: 2, unit: 'Cel' },
            { do: 'limit', max: 210, unit: 'Cel' },
          ],
        },
      }),
      expect: [],
    }),
  },
};
