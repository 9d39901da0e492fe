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
  if (
    fits(notAvailable, number, bits.length) &&
    fits(error, number, bits.length) &&
    states === undefined &&
    initial === undefined
  ) {
    return NONE;
  }
  const raws = [
    ...Object.keys(states ?? {}),
    ...(notAvailable ?? []),
    ...(error ?? []),
    ...(initial === undefined ? [] : [initial]),
  ];
  return raws.filter((raw) => !holdsRaw(raw, number, bits.length)).map(String);
}

function fits(
  raws: readonly (string | number)[] | undefined,
  kind: 'signed' | 'unsigned',
  lengthBits: number,
): boolean {
  if (raws !== undefined) for (const raw of raws) if (!holdsRaw(raw, kind, lengthBits)) return false;
  return true;
}

/** Doubles decide but at the last bits of wide fields, where integers are compared exactly. */
function holdsRaw(raw: string | number, kind: 'signed' | 'unsigned', lengthBits: number): boolean {
  const near = Number(raw);
  const most = kind === 'signed' ? 2 ** (lengthBits - 1) - 1 : 2 ** lengthBits - 1;
  const least = kind === 'signed' ? -(2 ** (lengthBits - 1)) : 0;
  if (near >= least && near <= most && Number.isSafeInteger(near)) return true;
  if (typeof raw === 'string' && !/^-?\d{1,24}$/.test(raw)) return true;
  const { lo, hi } = rawRange(kind, lengthBits);
  const exact = BigInt(raw);
  return exact >= lo && exact <= hi;
}

const NONE: readonly string[] = [];
