import type { Message, Protection } from '../../model/index.ts';
import {
  type ChecksumAlgorithm,
  type CounterSpec,
  counterFault,
  fitsIn,
  partsOf,
  protectionFaults,
} from '../../can/index.ts';
import type { ChecksumPlan, PlannedTransmit, VerifyPlan } from './types.ts';

/** A protection worked out for one message, or why it cannot be. */
export interface ProtectionPlan {
  readonly counter: PlannedTransmit['counter'];
  readonly checksum: ChecksumPlan | null;
  readonly faults: readonly string[];
}

const NONE: ProtectionPlan = { counter: null, checksum: null, faults: [] };

/** Counter and checksum of a message as the engine and the C source use them. */
export function protectionOf(message: Message, protection: Protection | undefined): ProtectionPlan {
  if (protection === undefined) return NONE;
  const faults: string[] = [];
  return { counter: counterOf(message, protection, faults), checksum: checksumOf(message, protection, faults), faults };
}

function counterOf(message: Message, protection: Protection, faults: string[]): PlannedTransmit['counter'] {
  if (protection.counter === undefined) return null;
  const signal = message.signals.find(({ id }) => id === protection.counter);
  if (signal === undefined) {
    faults.push(`the counter ${protection.counter} is no signal of ${message.id}`);
    return null;
  }
  const modulo = protection.counterModulo ?? Math.min(2 ** signal.bits.length, 65_536);
  const spec: CounterSpec = { modulo, ...(protection.counterSkips ? { skips: protection.counterSkips } : {}) };
  const fault =
    counterFault(spec) ??
    (modulo > 2 ** signal.bits.length ? `its modulo ${modulo} does not fit ${signal.bits.length} bits` : null);
  if (fault !== null || !fitsIn(signal.bits, message.length)) {
    faults.push(`the counter ${signal.id}: ${fault ?? 'it does not lie within the message'}`);
    return null;
  }
  return { bits: signal.bits, spec };
}

function checksumOf(message: Message, protection: Protection, faults: string[]): ChecksumPlan | null {
  const { algorithm } = protection;
  if (protection.checksum === undefined) return null;
  const signal = message.signals.find(({ id }) => id === protection.checksum);
  if (signal === undefined) {
    faults.push(`the checksum ${protection.checksum} is no signal of ${message.id}`);
    return null;
  }
  if (algorithm === undefined || algorithm === 'unknown') {
    faults.push(`the algorithm of the checksum ${signal.id} is not known`);
    return null;
  }
  const covers = protection.covers ?? 'all-but-checksum';
  const spec = {
    algorithm: algorithm satisfies ChecksumAlgorithm,
    covers,
    ...(protection.dataId === undefined ? {} : { dataId: protection.dataId }),
    ...(protection.dataIdAt === undefined ? {} : { dataIdAt: protection.dataIdAt }),
  };
  const wrong = protectionFaults(spec, signal.bits, message.length);
  if (wrong.length > 0) {
    faults.push(`the checksum ${signal.id}: ${wrong.join('; ')}`);
    return null;
  }
  return { algorithm, field: signal.bits, input: inputOf(message, signal.bits, covers, protection) };
}

/** Bytes in the order in which the checksum takes them: as `computeChecksum` of can/, whose rules these are. */
function inputOf(
  message: Message,
  field: ChecksumPlan['field'],
  covers: 'all-but-checksum' | readonly (readonly [number, number])[],
  { dataId, dataIdAt }: Protection,
): ChecksumPlan['input'] {
  const own = new Map<number, number>();
  for (const { byte, width, shift } of partsOf(field))
    own.set(byte, (own.get(byte) ?? 0) | (((1 << width) - 1) << shift));
  const take = (byte: number): ChecksumPlan['input'][number] => ({ byte, mask: ~(own.get(byte) ?? 0) & 0xff });
  const covered =
    covers === 'all-but-checksum'
      ? Array.from({ length: message.length }, (_, byte) => byte)
          .filter((byte) => own.get(byte) !== 0xff)
          .map(take)
      : covers.flatMap(([first, last]) => Array.from({ length: last - first + 1 }, (_, index) => take(first + index)));
  const id =
    dataId === undefined ? [] : [dataId & 0xff, ...(dataId > 0xff ? [dataId >> 8] : [])].map((fixed) => ({ fixed }));
  return dataIdAt === 'before' ? [...id, ...covered] : [...covered, ...id];
}

/** How frames of a protected source are verified; null when it has nothing to verify. */
export function verifyOf(message: Message): { readonly verify: VerifyPlan | null; readonly faults: readonly string[] } {
  const { counter, checksum, faults } = protectionOf(message, message.protection);
  return { verify: counter === null && checksum === null ? null : { counter, checksum }, faults };
}
