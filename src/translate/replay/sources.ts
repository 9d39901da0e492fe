import { checksumOf, compileField, extractRaw, insertRaw, judgeCount } from '../../can/index.ts';
import type { ChecksumPlan, ModulePlan, SourceGroup } from '../plan/types.ts';
import { MARK_LOST, MARK_NEVER } from './marks.ts';

/** The sources of one interface module: what was last received, and whether it still counts. */
export interface Sources {
  /** Payload kept for each group. */
  readonly payloads: readonly Uint8Array[];
  /** 0 while a group counts; else the mark of why it does not. */
  readonly missing: Float64Array;
  /** Takes a frame; true when the group accepts it as a sample. */
  accept(group: number, data: Uint8Array, timeUs: number): boolean;
  /** Marks groups lost that are too old; `changed` is called for each. */
  expire(timeUs: number, changed: (group: number) => void): void;
}

export function createSources({ groups }: ModulePlan): Sources {
  const payloads = groups.map(({ needsBytes }) => new Uint8Array(needsBytes));
  const missing = new Float64Array(groups.length).fill(MARK_NEVER);
  const lastUs = new Float64Array(groups.length);
  const good = new Uint16Array(groups.length);
  const accepts = groups.map(accepting);
  const mortal = groups.flatMap(({ staleUs }, group) => (staleUs === null ? [] : [{ group, staleUs }]));
  return {
    payloads,
    missing,
    accept(group, data, timeUs) {
      const plan = groups[group]!;
      if (data.length < plan.needsBytes || !accepts[group]!(data)) return false;
      if (missing[group] === MARK_NEVER) missing[group] = 0;
      else if (missing[group] === MARK_LOST) {
        const late = plan.staleUs !== null && timeUs - lastUs[group]! > plan.staleUs;
        good[group] = late ? 1 : good[group]! + 1;
        if (good[group] >= plan.recoverAfter) missing[group] = 0;
      }
      lastUs[group] = timeUs;
      const payload = payloads[group]!;
      for (let index = 0; index < payload.length; index += 1) payload[index] = data[index]!;
      return true;
    },
    expire(timeUs, changed) {
      for (const { group, staleUs } of mortal) {
        if (missing[group] !== 0 || timeUs - lastUs[group]! <= staleUs) continue;
        missing[group] = MARK_LOST;
        good[group] = 0;
        changed(group);
      }
    },
  };
}

/** The test a frame must pass to be a sample of a group: verified first, then the right page. */
function accepting({ selectors, verify }: SourceGroup): (data: Uint8Array) => boolean {
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
  if (verified === null && selected.length === 0) return () => true;
  return (data) => (verified === null || verified(data)) && selected.every((test) => test(data));
}

/** A frame is wrong when its checksum is, or when its counter stands still or has a value that its sender never uses. */
function verifying({ counter, checksum }: NonNullable<SourceGroup['verify']>): (data: Uint8Array) => boolean {
  const readCount = counter === null ? null : compileField(counter.bits, 'unsigned').read;
  let previous = -1;
  return (data) => {
    if (checksum !== null && checksumFor(checksum, data) !== Number(extractRaw(data, checksum.field))) return false;
    if (counter === null || readCount === null) return true;
    const count = Number(readCount(data));
    const verdict = previous < 0 ? judgeCount(count, count, counter.spec) : judgeCount(previous, count, counter.spec);
    if (verdict.kind === 'impossible' || (previous >= 0 && verdict.kind === 'repeated')) return false;
    previous = count;
    return true;
  };
}

/** The checksum of a payload as planned: unsigned, cut to its field. */
export function checksumFor({ algorithm, field, input }: ChecksumPlan, data: Uint8Array): number {
  const bytes = input.map((part) => ('fixed' in part ? part.fixed : data[part.byte]! & part.mask));
  const sum = checksumOf(bytes, algorithm);
  return field.length >= 32 ? sum : sum % 2 ** field.length;
}

/** Writes the checksum of a payload into it. */
export function writeChecksum(plan: ChecksumPlan, data: Uint8Array): void {
  insertRaw(data, plan.field, BigInt(checksumFor(plan, data)));
}
