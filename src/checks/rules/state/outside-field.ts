import { rawRange } from '../../../can/index.ts';
import type { Signal } from '../../../model/index.ts';
import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { stateCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'state/outside-field',
  severity: 'fix',
  title: 'State, code or start value with a raw number the field cannot hold',
  why: 'A state number beyond the bits can neither be sent nor received: the table belongs to another field, or the length is wrong.',
  sources: [commonPractice()],
  check: {
    message(_context, { message, ref }) {
      let drafts: Draft[] | null = null;
      for (const signal of message.signals) {
        const beyond = beyondField(signal);
        if (beyond.length === 0) continue;
        drafts ??= [];
        drafts.push({
          subject: `${ref}.${signal.id}`,
          message: `${ref}.${signal.id} has ${signal.bits.length} bits ${signal.number}, which cannot hold raw ${beyond.join(', ')}`,
          values: [named('bits', signal.bits.length), ...beyond.map((raw) => named('raw value', raw))],
        });
      }
      return drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'A two-bit field has a state 4.',
      documents: stateCase({ target: { states: { '0': 'Off', '1': 'On', '4': 'Locked' } } }),
      expect: ['host:ToCluster.TowHaul'],
    }),
    passing: () => ({ says: 'All states fit.', documents: stateCase(), expect: [] }),
  },
};

function beyondField(signal: Signal): string[] {
  if (signal.number === 'float32' || signal.number === 'float64') return [];
  if (!signal.states && !signal.notAvailable && !signal.error && signal.initial === undefined) return [];
  const { lo, hi } = rawRange(signal.number === 'signed' ? 'signed' : 'unsigned', signal.bits.length);
  const raws = [...Object.keys(signal.states ?? {}), ...(signal.notAvailable ?? []), ...(signal.error ?? [])];
  if (signal.initial !== undefined) raws.push(signal.initial);
  return raws.map(String).filter((raw) => {
    if (!/^-?\d{1,24}$/.test(raw)) return false;
    const value = BigInt(raw);
    return value < lo || value > hi;
  });
}
