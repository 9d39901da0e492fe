import { compileField } from '../../can/index.ts';
import type { Signal } from '../../model/index.ts';
import type { ValueDomain } from '../domain/value-domain.ts';
import type { PlannedTransmit } from '../plan/types.ts';
import { type Selection } from '../plan/pages.ts';
import { meaningOf } from './meaning.ts';
import type { FrameExpectation, WireExpectation } from './schema.ts';
import { hexOf } from './source-message.ts';
import type { Written } from './written.ts';

/** A field of a sent message under test. */
export interface FieldUnderTest {
  readonly transmit: PlannedTransmit;
  readonly signal: Signal;
  readonly domain: ValueDomain | null;
  /** Selectors of the page that holds it, with the signals that bear them; empty for a plain message. */
  readonly page: Selection;
  readonly selectors: readonly Signal[];
}

type Window = Pick<FrameExpectation, 'fromUs' | 'untilUs' | 'judge'>;

/** What a field must hold in a window. */
export function fieldExpectation(under: FieldUnderTest, written: Written, window: Window): FrameExpectation {
  const { transmit, signal, domain } = under;
  const base = { ...frameOf(transmit), signal: signal.id, ...window };
  const selected = pageOf(under);
  const page = selected === null ? {} : { page: selected };
  if (written.kind === 'nothing' || window.judge === 'never') {
    // By change, the other pages go out all the same.
    const alone = transmit.cadence.kind === 'on-change' ? page : {};
    return { ...base, ...alone, judge: 'never', meaning: { text: 'the message is not sent' } };
  }
  const mask = new Uint8Array(transmit.lengthBytes);
  compileField(signal.bits, 'unsigned').write(mask, (1n << BigInt(signal.bits.length)) - 1n);
  return {
    ...base,
    ...page,
    mask: hexOf(mask),
    ...(written.kind === 'raw' && written.lo === written.hi ? { value: placed(under, written.lo) } : {}),
    field: { ...signal.bits, number: signal.number },
    ...(written.kind === 'raw' ? { raw: [written.lo.toString(), written.hi.toString()] } : {}),
    ...(written.kind === 'float' ? { float: { value: written.value, tolerance: written.tolerance } } : {}),
    meaning: meaningOf(written, domain),
  };
}

function frameOf({
  ref,
  bus,
  frameId,
  extended,
}: PlannedTransmit): Pick<FrameExpectation, 'on' | 'message' | 'bus' | 'frameId' | 'idFormat'> {
  return { on: 'frame', message: ref, bus, frameId: idText(frameId), idFormat: extended ? 'extended' : 'standard' };
}

export function idText(frameId: number): string {
  return `0x${frameId.toString(16).toUpperCase()}`;
}

function placed({ transmit, signal }: FieldUnderTest, raw: bigint): string {
  const bytes = new Uint8Array(transmit.lengthBytes);
  compileField(signal.bits, 'unsigned').write(bytes, BigInt.asUintN(signal.bits.length, raw));
  return hexOf(bytes);
}

function pageOf({ transmit, page, selectors }: FieldUnderTest): { mask: string; value: string } | null {
  if (page.size === 0) return null;
  const mask = new Uint8Array(transmit.lengthBytes);
  const value = new Uint8Array(transmit.lengthBytes);
  for (const selector of selectors) {
    const { write } = compileField(selector.bits, 'unsigned');
    write(mask, (1n << BigInt(selector.bits.length)) - 1n);
    write(value, BigInt.asUintN(selector.bits.length, page.get(selector.id) ?? 0n));
  }
  return { mask: hexOf(mask), value: hexOf(value) };
}

/** A frame passed on as it is. */
export function copyExpectation(
  transmit: PlannedTransmit,
  data: string,
  window: Omit<Window, 'judge'>,
): FrameExpectation {
  return {
    ...frameOf(transmit),
    signal: null,
    judge: 'every',
    ...window,
    mask: 'FF'.repeat(transmit.lengthBytes),
    value: data,
    meaning: { text: 'the same bytes' },
  };
}

/** The level of a wire in a window. */
export function wireExpectation(
  wire: string,
  domain: ValueDomain | null,
  written: Written,
  window: Omit<Window, 'judge'>,
): WireExpectation | null {
  const base = { on: 'wire' as const, wire, ...window, meaning: meaningOf(written, domain) };
  switch (written.kind) {
    case 'nothing':
      return { ...base, level: { kind: 'open' } };
    case 'switched':
      return { ...base, level: { kind: 'switched', active: written.active } };
    case 'measured':
      return { ...base, level: { kind: 'measured', of: written.of, thousandths: [written.lo, written.hi] } };
    case 'raw':
    case 'float':
      return null;
  }
}
