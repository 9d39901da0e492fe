import {
  checksumWidth,
  computeChecksum,
  counterFault,
  crcCodeOf,
  fitsIn,
  firstCount,
  insertRaw,
  nextCount,
  protectionFaults,
  type ChecksumAlgorithm,
  type ProtectionSpec,
} from '../../can/index.ts';
import type { Message, Protection, Signal } from '../../model/index.ts';
import type { KeyValues } from '../document/index.ts';

const hex = (value: number | bigint, digits: number): string =>
  `0x${value.toString(16).toUpperCase().padStart(digits, '0')}`;

/** Bytes as traces write them: `1F 00 A2`. */
export function bytesText(bytes: Iterable<number>): string {
  return [...bytes].map((byte) => byte.toString(16).toUpperCase().padStart(2, '0')).join(' ');
}

/** The checksum of a platform's protection as the codec computes it; null when it has none or its algorithm is unknown. */
export function checksumSpec(protection: Protection | undefined): ProtectionSpec | null {
  if (protection?.checksum === undefined || protection.algorithm === undefined || protection.algorithm === 'unknown')
    return null;
  return {
    algorithm: protection.algorithm,
    covers: protection.covers ?? 'all-but-checksum',
    ...(protection.dataId === undefined ? {} : { dataId: protection.dataId }),
    dataIdAt: protection.dataIdAt ?? 'after',
  };
}

function dataIdBytes({ dataId }: ProtectionSpec): readonly number[] {
  return dataId === undefined ? [] : dataId < 256 ? [dataId] : [dataId & 0xff, dataId >> 8];
}

/** Counter and checksum with every parameter that decides a bit. */
export function protectionEntries(message: Message, protection: Protection): KeyValues['entries'] {
  const signal = (id: string | undefined): Signal | undefined => message.signals.find((one) => one.id === id);
  const counter = signal(protection.counter);
  const spec = checksumSpec(protection);
  return [
    {
      label: 'Counter',
      value:
        protection.counter === undefined
          ? 'none'
          : counter === undefined
            ? `${protection.counter}, which is no field of the message`
            : `${protection.counter}, ${counterText(protection, counter)}`,
    },
    {
      label: 'Checksum',
      value:
        protection.checksum === undefined
          ? 'none'
          : spec === null
            ? `${protection.checksum}, algorithm unknown: it cannot be sent or verified`
            : `${protection.checksum}, ${algorithmText(spec.algorithm)}`,
    },
    ...(spec === null
      ? []
      : [
          { label: 'Covers', value: coverText(spec, message.length, signal(protection.checksum)) },
          { label: 'Data id', value: dataIdText(spec) },
        ]),
    { label: 'Known from', value: protection.evidence ?? 'not said' },
  ];
}

function counterText({ counterModulo, counterSkips }: Protection, { bits }: Signal): string {
  const modulo = counterModulo ?? 2 ** Math.min(16, bits.length);
  const skips = counterSkips ?? [];
  const fault = counterFault({ modulo, skips });
  if (fault !== null) return fault;
  const first = firstCount({ modulo, skips });
  return `starts at ${first}, counts up by 1 with every frame, modulo ${modulo}${skips.length === 0 ? '' : `, never ${skips.join(', ')}`}`;
}

/** The counter as the codec counts it; null when there is none that can be counted. */
function counterOf(
  message: Message,
  protection: Protection,
): { readonly field: Signal; readonly counts: readonly [number, number] } | null {
  const field = message.signals.find(({ id }) => id === protection.counter);
  if (!field) return null;
  const spec = {
    modulo: protection.counterModulo ?? 2 ** Math.min(16, field.bits.length),
    skips: protection.counterSkips ?? [],
  };
  if (counterFault(spec) !== null) return null;
  const first = firstCount(spec);
  return { field, counts: [first, nextCount(first, spec)] };
}

function algorithmText(algorithm: ChecksumAlgorithm): string {
  const code = crcCodeOf(algorithm);
  const width = checksumWidth(algorithm);
  if (code === null) {
    switch (algorithm) {
      case 'xor8':
        return 'xor8: exclusive or of all bytes';
      case 'sum8':
        return 'sum8: sum of all bytes, modulo 256';
      default:
        return 'nibble-sum: sum of the upper and lower halves of all bytes, modulo 256';
    }
  }
  const digits = Math.ceil(width / 4);
  return `${algorithm}: ${width} bit, polynomial ${hex(code.polynomial, digits)}, start ${hex(code.start, digits)}, ${code.reflected ? 'input and output reflected' : 'not reflected'}, final exclusive or ${hex(code.finalXor, digits)}; “123456789” gives ${hex(code.check, digits)}`;
}

function coverText({ covers }: ProtectionSpec, length: number, checksum: Signal | undefined): string {
  const own = 'bits of the checksum inside a covered byte count as 0';
  if (covers === undefined || covers === 'all-but-checksum')
    return `every byte of 0–${length - 1} that the checksum${checksum === undefined ? '' : ` (bit ${checksum.bits.start}, ${checksum.bits.length} bits)`} does not fill, in rising order; ${own}`;
  return `bytes ${covers.map(([first, last]) => (first === last ? `${first}` : `${first}–${last}`)).join(', then ')}; ${own}`;
}

function dataIdText(spec: ProtectionSpec): string {
  if (spec.dataId === undefined) return 'none';
  return `${spec.dataId} (${hex(spec.dataId, 4)}), taken as ${dataIdBytes(spec).length === 1 ? 'the byte' : 'the bytes'} ${bytesText(dataIdBytes(spec))}${dataIdBytes(spec).length === 2 ? ' (low byte first)' : ''}, ${spec.dataIdAt === 'before' ? 'before' : 'after'} the covered bytes`;
}

export interface ProtectionVector {
  readonly payload: string;
  readonly counter: number | null;
  readonly checksum: string;
  readonly frame: string;
}

/**
 * Two worked frames of a protected message, computed: all other bits 0 with the first counter value; then bytes 0x11, 0x22, …
 * with the next. Null when the checksum cannot be computed; the faults say why.
 */
export function protectionVectors(
  message: Message,
  protection: Protection,
): { readonly vectors: readonly ProtectionVector[]; readonly faults: readonly string[] } {
  const spec = checksumSpec(protection);
  const field = message.signals.find(({ id }) => id === protection.checksum);
  if (spec === null || !field) return { vectors: [], faults: ['the checksum algorithm or its field is not known'] };
  const faults = protectionFaults(spec, field.bits, message.length);
  if (faults.length > 0) return { vectors: [], faults };
  const counter = counterOf(message, protection);
  const fits = counter !== null && fitsIn(counter.field.bits, message.length);
  const vectors = [0, 1].map((at): ProtectionVector => {
    const bytes = Uint8Array.from({ length: message.length }, (_, byte) => (at === 0 ? 0 : ((byte + 1) * 0x11) & 0xff));
    const count = fits ? counter.counts[at]! : null;
    insertRaw(bytes, field.bits, 0n);
    if (fits) insertRaw(bytes, counter.field.bits, BigInt(count!));
    const payload = bytesText(bytes);
    const checksum = computeChecksum(bytes, spec, field.bits, count ?? 0);
    insertRaw(bytes, field.bits, checksum);
    return {
      payload,
      counter: count,
      checksum: hex(checksum, Math.ceil(field.bits.length / 4)),
      frame: bytesText(bytes),
    };
  });
  return { vectors, faults: [] };
}
