import { rawRange } from '../../../can/index.ts';
import { signalKind, type Signal } from '../../../model/index.ts';
import { float } from '../../numbers.ts';
import { commonPractice, fromMemory, named, type Draft, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';
import type { Edit } from '../../../model/index.ts';

export const rule: Rule = {
  id: 'range/not-available-as-value',
  severity: 'stop',
  title: 'Not-available or error code is taken for a value, or a value for the code',
  why: '0xFF − 40 is 215 °C: the gauge pegs; 0xFFFF at 0.125 is 8191.9 rev/min. The code must be told from the values at the source and have a place at the target.',
  sources: [
    { source: 'SAE J1939-71: top raw values are error and not available', provenance: 'read' },
    fromMemory('SAE J1939-71, table of parameter ranges'),
    commonPractice(),
  ],
  check: {
    route(context, route) {
      const { landsOnSpecial, notAvailable } = context.analysis(route);
      const drafts: Draft[] = [];
      for (const special of landsOnSpecial) {
        drafts.push({
          message: `${route.id}: an ordinary value can arrive as raw ${special.raw}, which ${route.to} reads as ${special.means}`,
          mask: context.maskOf(route),
          values: [named('raw value', special.raw), named('means', special.means)],
        });
      }
      for (const outcome of notAvailable) {
        if (outcome.becomes.kind !== 'held') continue;
        drafts.push({
          message: `${route.from[outcome.source]} says ${outcome.means} (raw ${outcome.raw}), ${route.to} cannot, and the route has no loss behaviour: the last value stays`,
          mask: context.maskOf(route),
          values: [named('raw value', outcome.raw), named('means', outcome.means)],
        });
      }
      for (const { ref, entry: source } of context.sources(route)) {
        if (source?.kind !== 'signal' || route.carrier === 'bus') continue;
        const suspect = undeclaredCode(source.signal, source.message.idFormat === 'extended');
        if (suspect === null) continue;
        const mend: Edit = {
          do: 'set',
          in: source.side,
          path: ['messages', { id: source.message.id }, 'signals', { id: source.signal.id }, 'notAvailable'],
          to: [suspect],
        };
        drafts.push({
          severity: 'fix',
          message: `${ref} declares a range that ends below raw ${suspect}, and no code for not available: raw ${suspect} (all ones) would be taken for a value beyond the range`,
          mask: context.maskOf(route),
          values: [
            named('raw value', suspect),
            named('declared range', source.signal.range!.join(' … '), source.signal.unit),
          ],
          mend: { title: `declare raw ${suspect} as not available`, edits: [mend] },
        });
      }
      return drafts.length === 0 ? null : drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'The source ends at 210 °C and does not say what its raw 255 means.',
      documents: numberCase({ source: { notAvailable: undefined } }),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'Raw 255 is declared not available at both ends.', documents: numberCase(), expect: [] }),
  },
};

/** All ones of a whole number of bytes, beyond the declared range by more than rounding, and not declared: a code most likely. */
function undeclaredCode(signal: Signal, standardised: boolean): number | null {
  const { bits, range, number } = signal;
  if (signalKind(signal) !== 'number' || number !== 'unsigned' || range === undefined || bits.length > 32) return null;
  if (signal.notAvailable !== undefined || signal.error !== undefined) return null;
  if (bits.length % 8 !== 0 || (bits.length === 32 && !standardised)) return null;
  const top = Number(rawRange('unsigned', bits.length).hi);
  const factor = float(signal.factor);
  const beyond = top * factor + float(signal.offset);
  // One code above the range is a coincidence of rounding; a gap of several is how codes are laid out.
  return beyond - float(range[1]) >= Math.abs(factor) * 2 ? top : null;
}
