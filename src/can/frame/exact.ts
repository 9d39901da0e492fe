import { CRC15, CRC17, CRC21, frameCrcOf } from './crc.ts';
import { dlcOf, type FrameFormat, type IdFormat, MAX_FRAME_ID } from './dlc.ts';
import { fdCrcBits, type FrameBits, inPhases } from './length.ts';

/** A frame with its content. */
export interface FrameContent {
  readonly frameId: number;
  readonly idFormat: IdFormat;
  readonly frameFormat: FrameFormat;
  readonly bytes: Uint8Array;
  /** A remote frame carries no bytes; `requestedBytes` goes into its length code. Classical only. */
  readonly remote?: { readonly requestedBytes: number };
  readonly bitRateSwitch?: boolean;
  readonly errorStateIndicator?: boolean;
}

/** Bits on the wire with the intermission, the dynamic stuff bits among them, and the CRC sequence the frame carries. */
export interface ExactFrameBits extends FrameBits {
  readonly stuffBits: number;
  readonly crc: number;
}

const STUFF_AFTER = 5;
const CLASSIC_TAIL_BITS = 13;
const FD_TAIL_BITS = 13;
/** Stuff count modulo 8 as a 3-bit Gray code followed by an even parity bit. ISO 11898-1:2015. */
const STUFF_COUNT_CODE: readonly number[] = [0b0000, 0b0011, 0b0110, 0b0101, 0b1100, 0b1111, 0b1010, 0b1001];

/**
 * The bits that exactly this frame takes, stuff bits included. Never more than `worstCaseFrameBits` of its shape.
 *
 * Classical: start of frame … CRC sequence is stuffed, also right after its last bit. Source: Bosch, CAN Specification 2.0 (1991).
 * CAN FD: start of frame … data is stuffed; from the stuff count on the stuff bits are fixed ones, and the first of them stands in for
 * a stuff bit that would be due at the end of the data. Source: ISO 11898-1:2015.
 * @throws RangeError when the id does not fit its format or no frame has that many bytes.
 */
export function exactFrameBits(frame: FrameContent): ExactFrameBits {
  const { frameId, idFormat, frameFormat } = frame;
  if (!Number.isInteger(frameId) || frameId < 0 || frameId > MAX_FRAME_ID[idFormat]) {
    throw new RangeError(
      `frame id 0x${frameId.toString(16).toUpperCase()} does not fit an id of ${idFormat === 'standard' ? 11 : 29} bits`,
    );
  }
  if (frame.remote !== undefined && (frameFormat === 'fd' || frame.bytes.length > 0)) {
    throw new RangeError('a remote frame is a classical frame without bytes');
  }
  return frameFormat === 'classic' ? classicBits(frame) : fdBits(frame);
}

function classicBits(frame: FrameContent): ExactFrameBits {
  const bits: number[] = [];
  const remote = frame.remote === undefined ? 0 : 1;
  const dlc = lengthCode(frame.remote?.requestedBytes ?? frame.bytes.length, 'classic');
  push(bits, 0, 1);
  if (frame.idFormat === 'standard') {
    push(bits, frame.frameId, 11);
    push(bits, remote, 1);
    push(bits, 0b00, 2); // IDE, r0
  } else {
    push(bits, frame.frameId >>> 18, 11);
    push(bits, 0b11, 2); // SRR, IDE
    push(bits, frame.frameId & 0x3ffff, 18);
    push(bits, remote, 1);
    push(bits, 0b00, 2); // r1, r0
  }
  push(bits, dlc, 4);
  for (const byte of frame.bytes) push(bits, byte, 8);
  const crc = frameCrcOf(bits, CRC15);
  push(bits, crc, CRC15.width);
  const stuffBits = stuffed(bits).length - bits.length;
  return { nominalBits: bits.length + stuffBits + CLASSIC_TAIL_BITS, dataBits: 0, stuffBits, crc };
}

function fdBits(frame: FrameContent): ExactFrameBits {
  const lengthBytes = frame.bytes.length;
  const bits: number[] = [];
  push(bits, 0, 1);
  if (frame.idFormat === 'standard') {
    push(bits, frame.frameId, 11);
    push(bits, 0b00, 2); // RRS, IDE
  } else {
    push(bits, frame.frameId >>> 18, 11);
    push(bits, 0b11, 2); // SRR, IDE
    push(bits, frame.frameId & 0x3ffff, 18);
    push(bits, 0, 1); // RRS
  }
  push(bits, 0b10, 2); // FDF, res
  push(bits, frame.bitRateSwitch === false ? 0 : 1, 1);
  const arbitration = bits.length;
  push(bits, frame.errorStateIndicator === true ? 1 : 0, 1);
  push(bits, lengthCode(lengthBytes, 'fd'), 4);
  for (const byte of frame.bytes) push(bits, byte, 8);

  const wire = stuffed(bits);
  // The fixed stuff bit before the stuff count is the one due here; it is not counted as a dynamic one.
  if (endsInRun(wire)) wire.pop();
  const stuffBits = wire.length - bits.length;
  // A stuff bit due right after BRS is sent in the data phase: it comes after the switch.
  const upToSwitch = stuffed(bits.slice(0, arbitration));
  const nominal = upToSwitch.length - (endsInRun(upToSwitch) ? 1 : 0);
  const code = lengthBytes <= 16 ? CRC17 : CRC21;
  const count: number[] = [];
  push(count, STUFF_COUNT_CODE[stuffBits % 8]!, 4);
  // The CRC covers the dynamic stuff bits and the stuff count, not the fixed stuff bits.
  const crc = frameCrcOf(count, code, frameCrcOf(wire, code));
  const data = wire.length - nominal + fdCrcBits(lengthBytes);
  return { ...inPhases(frame, nominal + FD_TAIL_BITS, data), stuffBits, crc };
}

function lengthCode(lengthBytes: number, format: FrameFormat): number {
  const dlc = dlcOf(lengthBytes, format);
  if (dlc === null) throw new RangeError(`no ${format} frame has ${lengthBytes} bytes`);
  return dlc;
}

function push(bits: number[], value: number, width: number): void {
  for (let bit = width - 1; bit >= 0; bit -= 1) bits.push((value >>> bit) & 1);
}

/** The bits with the complement inserted after every five equal ones; inserted bits count towards the next five. */
function stuffed(bits: readonly number[]): number[] {
  const out: number[] = [];
  let run = 0;
  let last = -1;
  for (const bit of bits) {
    out.push(bit);
    run = bit === last ? run + 1 : 1;
    last = bit;
    if (run === STUFF_AFTER) {
      last = 1 - bit;
      run = 1;
      out.push(last);
    }
  }
  return out;
}

/** Whether `stuffed` put its last bit there because of the five before it. */
function endsInRun(wire: readonly number[]): boolean {
  const end = wire.length - 1;
  if (end < STUFF_AFTER) return false;
  const bit = wire[end - 1];
  for (let i = 1; i <= STUFF_AFTER; i += 1) if (wire[end - i] !== bit) return false;
  return wire[end] !== bit;
}
