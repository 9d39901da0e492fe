import { compare, toRational } from '../../../number/index.ts';
import { signalKind } from '../../../model/index.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'range/zero-means-missing',
  severity: 'fix',
  title: 'Raw 0 is declared not available and is an ordinary value too',
  why: 'A sender that sends 0 while it sleeps and a reader that takes 0 for a value: an empty tank at key-on.',
  sources: [commonPractice()],
  check: {
    route(context, route) {
      const drafts: Draft[] = [];
      for (const { ref, entry: end } of context.ends(route)) {
        if (end?.kind !== 'signal' || signalKind(end.signal) !== 'number' || end.signal.range === undefined) continue;
        const missing = [...(end.signal.notAvailable ?? []), ...(end.signal.error ?? [])].some(
          (raw) => Number(raw) === 0,
        );
        if (!missing) continue;
        const at = toRational(end.signal.offset);
        if (compare(at, toRational(end.signal.range[0])) < 0 || compare(at, toRational(end.signal.range[1])) > 0)
          continue;
        drafts.push({
          message: `${ref} declares raw 0 not available, and ${end.signal.offset} ${end.signal.unit} (raw 0) lies in its range`,
          mask: context.maskOf(route),
          values: [
            named('signal', ref),
            named('raw value', 0),
            named('range', end.signal.range.join(' … '), end.signal.unit),
          ],
        });
      }
      return drafts.length === 0 ? null : drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'Raw 0 of the source is not available and −40 °C at once.',
      documents: numberCase({ source: { notAvailable: [0, 255] } }),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'Only 255 is.', documents: numberCase(), expect: [] }),
  },
};
