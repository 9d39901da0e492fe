import type { FrameFormat, IdFormat } from '../../frame/dlc.ts';

/** When and where a frame was seen. */
interface Seen {
  /** Microseconds, an exact integer; null when the line carries no time. */
  readonly timeUs: number | null;
  /** Nanoseconds beyond `timeUs`, 0–999: logs with nine decimals have them. */
  readonly restNs: number;
  readonly interfaceName: string;
  readonly direction: 'received' | 'sent' | null;
}

/** A frame with bytes. `flags` is the flag digit of a CAN FD frame (see `FD_FLAGS`), 0 in a classical one. */
export interface CandumpData extends Seen {
  readonly kind: 'data';
  readonly frameId: number;
  readonly idFormat: IdFormat;
  readonly frameFormat: FrameFormat;
  readonly flags: number;
  readonly bytes: Uint8Array;
  /** Data length code 9–15 of a classical frame of 8 bytes, where the log gives it; else null. */
  readonly rawDlc: number | null;
}

/** A remote frame: asks for `requestedBytes` bytes. */
export interface CandumpRemote extends Seen {
  readonly kind: 'remote';
  readonly frameId: number;
  readonly idFormat: IdFormat;
  readonly requestedBytes: number;
}

/** A report of the controller, not a frame of the bus: `errorClass` is a set of bits, `bytes` the details. */
export interface CandumpError extends Seen {
  readonly kind: 'error';
  readonly errorClass: number;
  readonly bytes: Uint8Array;
}

export type CandumpFrame = CandumpData | CandumpRemote | CandumpError;

/** A line that could not be read. `line` and `column` count from 1. */
export interface CandumpFault {
  readonly kind: 'fault';
  readonly line: number;
  readonly column: number;
  readonly problem: string;
}

/** Bits of the flag digit after `##`. */
export const FD_FLAGS = { bitRateSwitch: 1, errorStateIndicator: 2, fdFrame: 4 } as const;

/** Bit of an 8-digit id which marks an error report. */
export const ERROR_ID_BIT = 0x2000_0000;
