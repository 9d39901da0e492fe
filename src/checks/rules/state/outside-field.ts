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

function beyondField(signal: Signal): readonly string[] {
  const { states, notAvailable, error, initial, number, bits } = signal;
  if (states === undefined && notAvailable === undefined && error === undefined && initial === undefined) return NONE;
  if (number === 'float32' || number === 'float64') return NONE;
  const most = number === 'signed' ? 2 ** (bits.length - 1) - 1 : 2 ** bits.length - 1;
  const least = number === 'signed' ? -(2 ** (bits.length - 1)) : 0;
  let beyond: string[] | null = null;
  // Doubles decide but at the last bits of wide fields, where integers are compared exactly.
  const judge = (raw: string | number): void => {
    const near = Number(raw);
    if (near >= least && near <= most && Number.isSafeInteger(near)) return;
    if (typeof raw === 'string' && !/^-?\d{1,24}$/.test(raw)) return;
    if (!isBeyond(BigInt(raw), number, bits.length)) return;
    (beyond ??= []).push(String(raw));
  };
  if (states) for (const raw of Object.keys(states)) judge(raw);
  notAvailable?.forEach(judge);
  error?.forEach(judge);
  if (initial !== undefined) judge(initial);
  return beyond ?? NONE;
}

const NONE: readonly string[] = [];

function isBeyond(raw: bigint, kind: 'signed' | 'unsigned', lengthBits: number): boolean {
  const { lo, hi } = rawRange(kind, lengthBits);
  return raw < lo || raw > hi;
}
