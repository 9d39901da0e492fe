import { dlcOf, type FrameFormat, type IdFormat } from './dlc.ts';

/**
 * Bits of a frame on the wire, from start of frame to the end of the three bits of intermission that must follow it.
 * `nominalBits` are sent at the bus's bit rate; `dataBits` at the data bit rate when the frame switches (CAN FD with BRS), and are
 * 0 in a classical frame.
 */
export interface FrameBits {
  readonly nominalBits: number;
  readonly dataBits: number;
}

/** Shape of a frame whose content is not known. */
export interface FrameShape {
  readonly idFormat: IdFormat;
  readonly frameFormat: FrameFormat;
  readonly lengthBytes: number;
  /** CAN FD: whether the data phase runs at the data bit rate (BRS). Default: it does. */
  readonly bitRateSwitch?: boolean;
}

/** CRC delimiter, ACK slot, ACK delimiter, end of frame 7, intermission 3: never stuffed. */
const CLASSIC_TAIL_BITS = 13;
/** Start of frame … data length code, and the CRC sequence: what stuffing applies to, without the data. */
const CLASSIC_STUFFED_BITS: Readonly<Record<IdFormat, number>> = { standard: 34, extended: 54 };
/** Start of frame … BRS, and ESI + data length code. */
const FD_ARBITRATION_BITS: Readonly<Record<IdFormat, number>> = { standard: 17, extended: 36 };
const FD_CONTROL_BITS = 5;
/** Stuff count 4 + CRC sequence + fixed stuff bits (one first, then one after every 4 bits). */
const FD_CRC17_BITS = 4 + 17 + 6;
const FD_CRC21_BITS = 4 + 21 + 7;
/** CRC delimiter, ACK slot, ACK delimiter, end of frame 7, intermission 3. */
const FD_TAIL_BITS = 13;
const FD_CRC17_MAX_BYTES = 16;

/**
 * The most bits a frame of this shape can take, whatever its content. Classical: g + 8s + 13 + ⌊(g + 8s − 1)/4⌋ with g = 34 or 54, that is
 * 55 + 10s or 80 + 10s for s bytes. The true maximum is one to three bits lower; this bound is the published one.
 * Source: Davis, Burns, Bril, Lukkien, Real-Time Systems 35 (2007), equations 1–3; CAN FD: Linux kernel include/linux/can/length.h.
 * @throws RangeError when no frame of the format has that length.
 */
export function worstCaseFrameBits(shape: FrameShape): FrameBits {
  checkLength(shape);
  const { idFormat, frameFormat, lengthBytes } = shape;
  if (frameFormat === 'classic') {
    const stuffed = CLASSIC_STUFFED_BITS[idFormat] + 8 * lengthBytes;
    return { nominalBits: stuffed + CLASSIC_TAIL_BITS + Math.floor((stuffed - 1) / 4), dataBits: 0 };
  }
  const arbitration = FD_ARBITRATION_BITS[idFormat];
  const stuffed = arbitration + FD_CONTROL_BITS + 8 * lengthBytes;
  const total = stuffed + Math.floor((stuffed - 1) / 4) + fdCrcBits(lengthBytes) + FD_TAIL_BITS;
  const nominal = arbitration + Math.floor((arbitration - 1) / 4) + FD_TAIL_BITS;
  return inPhases(shape, nominal, total - nominal);
}

/** The bits of a frame of this shape without any dynamic stuff bit: the least it can take. Same bounds and errors as above. */
export function plainFrameBits(shape: FrameShape): FrameBits {
  checkLength(shape);
  const { idFormat, frameFormat, lengthBytes } = shape;
  if (frameFormat === 'classic') {
    return { nominalBits: CLASSIC_STUFFED_BITS[idFormat] + 8 * lengthBytes + CLASSIC_TAIL_BITS, dataBits: 0 };
  }
  const data = FD_CONTROL_BITS + 8 * lengthBytes + fdCrcBits(lengthBytes);
  return inPhases(shape, FD_ARBITRATION_BITS[idFormat] + FD_TAIL_BITS, data);
}

/** Puts all bits into the nominal phase when the frame does not switch its rate. */
export function inPhases(
  shape: { readonly bitRateSwitch?: boolean },
  nominalBits: number,
  dataBits: number,
): FrameBits {
  return shape.bitRateSwitch === false
    ? { nominalBits: nominalBits + dataBits, dataBits: 0 }
    : { nominalBits, dataBits };
}

/** Stuff count, CRC sequence and their fixed stuff bits: 27 bits up to 16 bytes, 32 above. ISO 11898-1:2015. */
export function fdCrcBits(lengthBytes: number): number {
  return lengthBytes <= FD_CRC17_MAX_BYTES ? FD_CRC17_BITS : FD_CRC21_BITS;
}

function checkLength({ lengthBytes, frameFormat }: FrameShape): void {
  if (dlcOf(lengthBytes, frameFormat) === null)
    throw new RangeError(`no ${frameFormat} frame has ${lengthBytes} bytes`);
}
