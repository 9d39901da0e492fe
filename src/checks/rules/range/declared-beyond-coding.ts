import { abs, add, compare, equals, sub, toRational } from '../../../number/index.ts';
import { physicalRange } from '../../../can/index.ts';
import { signalKind, type Signal } from '../../../model/index.ts';
import { float, intervalText } from '../../numbers.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'range/declared-beyond-coding',
  severity: 'stop',
  title: 'Declared range and coding of a signal contradict each other',
  why: 'A range that the bits and the scaling cannot hold means that one of them was copied wrongly: an offset left out or added before scaling, a sign bit forgotten, a factor of two, bytes in the other order.',
  sources: [
    { source: 'SAE J1939 SPN 110, 175, 190, 513 (transcriptions)', provenance: 'read' },
    commonPractice('compare the value at raw 0 and at the top with the stated range'),
  ],
  check: {
    message(context, { message, ref }) {
      if (!context.isRouted(ref)) return null;
      const drafts: Draft[] = [];
      for (const signal of message.signals) {
        if (signal.range === undefined || signal.number === 'float32' || signal.number === 'float64') continue;
        if (fitsQuickly(signal)) continue;
        const signalRef = `${ref}.${signal.id}`;
        // Only what the map uses, directly or by the whole frame.
        const { routesFrom, routesTo } = context.pairing;
        if (![signalRef, ref].some((used) => routesFrom.has(used) || routesTo.has(used))) continue;
        const slip = slipOf(signal);
        if (slip === null) continue;
        drafts.push({ ...slip, subject: signalRef, message: `${signalRef}: ${slip.message}` });
      }
      return drafts.length === 0 ? null : drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'The source is said to go down to −40 °C, and its coding has neither offset nor sign.',
      documents: numberCase({ source: { offset: 0 } }),
      expect: ['donor:FromEngine.OilTemp'],
    }),
    passing: () => ({ says: 'With its offset it does.', documents: numberCase(), expect: [] }),
  },
};

/** In doubles, with a margin of one step: only what fails here is looked at exactly. */
function fitsQuickly({ bits, number, factor, offset, range }: Signal): boolean {
  const f = quick(factor);
  const o = quick(offset);
  const lo = quick(range![0]);
  const hi = quick(range![1]);
  // An empty or inverted range declares nothing.
  if (!(lo < hi) || f === 0) return true;
  const least = number === 'signed' ? -(2 ** (bits.length - 1)) : 0;
  const most = number === 'signed' ? 2 ** (bits.length - 1) - 1 : 2 ** bits.length - 1;
  const a = Math.min(least * f, most * f) + o;
  const b = Math.max(least * f, most * f) + o;
  const step = Math.abs(f);
  return lo >= a - step && hi <= b + step;
}

function quick(exact: number | string): number {
  return typeof exact === 'number' ? exact : float(exact);
}

function slipOf(signal: Signal) {
  if (signalKind(signal) !== 'number') return null;
  const lo = toRational(signal.range![0]);
  const hi = toRational(signal.range![1]);
  if (compare(lo, hi) >= 0) return null;
  const scaling = { factor: toRational(signal.factor), offset: toRational(signal.offset) };
  const kind = signal.number === 'signed' ? 'signed' : 'unsigned';
  const holds = physicalRange(kind, signal.bits.length, scaling);
  // A declared end may lie less than a step beyond the coding: it is written rounded.
  const step = abs(scaling.factor);
  const within = compare(lo, sub(holds.lo, step)) >= 0 && compare(hi, add(holds.hi, step)) <= 0;
  if (scaling.factor.num !== 0n && within) return null;
  const values = [
    named('declared', intervalText({ lo, hi }, signal.unit)),
    named('coding holds', intervalText(holds, signal.unit)),
    named('coding', `${signal.bits.length} bit ${kind}, ${String(signal.factor)}·raw + ${String(signal.offset)}`),
  ];
  const hint = hintOf(signal, lo.num < 0n, holds.lo.num >= 0n, equals(scaling.offset, toRational(0)));
  return {
    message: `it is declared ${intervalText({ lo, hi }, signal.unit)}, but ${signal.bits.length} bits ${kind} with ${String(signal.factor)}·raw + ${String(signal.offset)} hold ${intervalText(holds, signal.unit)}${hint.text}`,
    values,
    // A range that is only sloppy at one end misleads nobody about sign or zero.
    severity: hint.sure ? ('stop' as const) : ('fix' as const),
  };
}

function hintOf(signal: Signal, below: boolean, never: boolean, noOffset: boolean): { text: string; sure: boolean } {
  if (below && never && noOffset) return { text: ': the sign or the offset seems to be left out', sure: true };
  const offset = float(signal.offset);
  const factor = float(signal.factor);
  if (offset !== 0 && Math.abs(factor) < 1 && float(signal.range![0]) === Number((offset * factor).toPrecision(12))) {
    return { text: ': the offset seems to have been added before scaling', sure: true };
  }
  return { text: ': a factor, an offset, the length or the byte order seems to be copied wrongly', sure: false };
}
