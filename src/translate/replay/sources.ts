import { checksumOf, compileField, judgeCount } from '../../can/index.ts';
import type { ChecksumPlan, ModulePlan, SourceGroup } from '../plan/types.ts';
import { fieldWriter } from './fast-field.ts';
import { SPARE_BYTES } from './lane.ts';
import { MARK_LOST, MARK_NEVER } from './marks.ts';

/** The sources of one interface module: what was last received, and whether it still counts. */
export interface Sources {
  /** Payloads of all groups, one after another, with spare bytes behind; and where each begins. */
  readonly arena: Uint8Array;
  readonly offsets: readonly number[];
  /** The stretch of the arena that belongs to each group. */
  readonly payloads: readonly Uint8Array[];
  /** 0 while a group counts; else the mark of why it does not. */
  readonly missing: Float64Array;
  /** For each group: takes a frame; true when it is a sample. */
  readonly accept: readonly ((data: Uint8Array, timeUs: number) => boolean)[];
  /** Marks groups lost that are too old; true when there was one. */
  expire(timeUs: number): boolean;
}

export function createSources({ groups }: ModulePlan): Sources {
  const offsets: number[] = [];
  let size = 0;
  for (const { needsBytes } of groups) {
    offsets.push(size);
    size += needsBytes;
  }
  const arena = new Uint8Array(size + SPARE_BYTES);
  const payloads = groups.map(({ needsBytes }, group) => arena.subarray(offsets[group]!, offsets[group]! + needsBytes));
  const missing = new Float64Array(groups.length).fill(MARK_NEVER);
  const lastUs = new Float64Array(groups.length);
  const staleUs = Float64Array.from(groups, (group) => group.staleUs ?? Infinity);
  const good = new Uint16Array(groups.length);
  const tests = groups.map(accepting);
  const count = groups.length;
  /** No group can expire before this: it is looked for again only then. */
  const soonestUs = Float64Array.of(Infinity);

  /** A source that did not count: the first sample ever counts at once, after a loss as many are needed as declared. */
  const returns = (group: number, timeUs: number): void => {
    soonestUs[0] = Math.min(soonestUs[0]!, timeUs + staleUs[group]!);
    if (missing[group] === MARK_NEVER) {
      missing[group] = 0;
      return;
    }
    good[group] = timeUs - lastUs[group]! > staleUs[group]! ? 1 : good[group]! + 1;
    if (good[group]! >= groups[group]!.recoverAfter) missing[group] = 0;
  };
  const acceptor = (
    { needsBytes: length }: SourceGroup,
    group: number,
  ): ((data: Uint8Array, timeUs: number) => boolean) => {
    const test = tests[group]!;
    const offset = offsets[group]!;
    if (length === 8 && test === null) {
      return (data, timeUs) => {
        if (data.length < 8) return false;
        if (missing[group] !== 0) returns(group, timeUs);
        lastUs[group] = timeUs;
        // Nearly every frame has eight bytes; a loop over them costs twice as much.
        arena[offset] = data[0]!;
        arena[offset + 1] = data[1]!;
        arena[offset + 2] = data[2]!;
        arena[offset + 3] = data[3]!;
        arena[offset + 4] = data[4]!;
        arena[offset + 5] = data[5]!;
        arena[offset + 6] = data[6]!;
        arena[offset + 7] = data[7]!;
        return true;
      };
    }
    return (data, timeUs) => {
      if (data.length < length || (test !== null && !test(data))) return false;
      if (missing[group] !== 0) returns(group, timeUs);
      lastUs[group] = timeUs;
      for (let index = 0; index < length; index += 1) arena[offset + index] = data[index]!;
      return true;
    };
  };
  return {
    arena,
    offsets,
    payloads,
    missing,
    accept: groups.map(acceptor),
    expire(timeUs) {
      if (timeUs <= soonestUs[0]!) return false;
      let any = false;
      let soonest = Infinity;
      for (let group = 0; group < count; group += 1) {
        if (missing[group] !== 0) continue;
        const endsUs = lastUs[group]! + staleUs[group]!;
        if (timeUs <= endsUs) {
          if (endsUs < soonest) soonest = endsUs;
          continue;
        }
        missing[group] = MARK_LOST;
        good[group] = 0;
        any = true;
      }
      soonestUs[0] = soonest;
      return any;
    },
  };
}

/** The test a frame must pass to be a sample of a group: verified first, then the right page. Null: every frame passes. */
function accepting({ selectors, verify }: SourceGroup): ((data: Uint8Array) => boolean) | null {
  const verified = verify === null ? null : verifying(verify);
  const selected = selectors.map(({ bits, signed, on }) => {
    const { read } = compileField(bits, signed ? 'signed' : 'unsigned');
    if (on.every(([first, last]) => first === last) && bits.length <= 32) {
      const values = new Set(on.map(([value]) => Number(value)));
      return (data: Uint8Array) => values.has(Number(read(data)));
    }
    return (data: Uint8Array) => {
      const raw = BigInt(read(data));
      return on.some(([first, last]) => first <= raw && raw <= last);
    };
  });
  if (verified === null && selected.length === 0) return null;
  return (data) => (verified === null || verified(data)) && selected.every((test) => test(data));
}

/** A frame is wrong when its checksum is, or when its counter stands still or has a value that its sender never uses. */
function verifying({ counter, checksum }: NonNullable<SourceGroup['verify']>): (data: Uint8Array) => boolean {
  const readCount = counter === null ? null : compileField(counter.bits, 'unsigned').read;
  const holds = checksum === null ? null : checksumTest(checksum);
  let previous = -1;
  return (data) => {
    if (holds !== null && !holds(data)) return false;
    if (counter === null || readCount === null) return true;
    const count = Number(readCount(data));
    const verdict = judgeCount(previous < 0 ? count : previous, count, counter.spec);
    if (verdict.kind === 'impossible' || (previous >= 0 && verdict.kind === 'repeated')) return false;
    previous = count;
    return true;
  };
}

/** What works out the checksum of a payload as planned: unsigned, cut to its field. Made once and used for many frames. */
function checksumRunner({ algorithm, field, input }: ChecksumPlan): (data: Uint8Array) => number {
  const from = Int32Array.from(input, (part) => ('fixed' in part ? -1 : part.byte));
  const mask = Uint8Array.from(input, (part) => ('fixed' in part ? 0 : part.mask));
  // Fixed bytes stay as they are.
  const bytes = Uint8Array.from(input, (part) => ('fixed' in part ? part.fixed : 0));
  const count = bytes.length;
  const end = field.length >= 32 ? Infinity : 2 ** field.length;
  return (data) => {
    for (let index = 0; index < count; index += 1) {
      const byte = from[index]!;
      if (byte >= 0) bytes[index] = data[byte]! & mask[index]!;
    }
    const sum = checksumOf(bytes, algorithm);
    return sum < end ? sum : sum % end;
  };
}

/** The checksum of one payload as planned. */
export function checksumFor(plan: ChecksumPlan, data: Uint8Array): number {
  return checksumRunner(plan)(data);
}

function checksumTest(plan: ChecksumPlan): (data: Uint8Array) => boolean {
  const sum = checksumRunner(plan);
  const { read } = compileField(plan.field, 'unsigned');
  return (data) => sum(data) === Number(read(data));
}

/** What writes the checksum of a payload into it. Made once and used for many frames. */
export function checksumWriter(plan: ChecksumPlan): (data: Uint8Array) => void {
  const sum = checksumRunner(plan);
  const write = fieldWriter(plan.field, 'unsigned');
  return (data) => write(data, sum(data));
}

/** Writes the checksum of one payload into it. */
export function writeChecksum(plan: ChecksumPlan, data: Uint8Array): void {
  checksumWriter(plan)(data);
}
