/** `classic`: ISO 11898-1 classical frame, 0–8 bytes. `fd`: CAN FD frame, 0–8, 12, 16, 20, 24, 32, 48 or 64 bytes. */
export type FrameFormat = 'classic' | 'fd';

/** `standard`: 11-bit frame id; `extended`: 29-bit frame id. */
export type IdFormat = 'standard' | 'extended';

/** Payload bytes by data length code, CAN FD. ISO 11898-1:2015 table 5; codes 0–8 are those of the classical frame. */
export const FD_LENGTHS: readonly number[] = [0, 1, 2, 3, 4, 5, 6, 7, 8, 12, 16, 20, 24, 32, 48, 64];

/** Greatest frame id of a format. */
export const MAX_FRAME_ID: Readonly<Record<IdFormat, number>> = { standard: 0x7ff, extended: 0x1fff_ffff };

/** Data length code of a payload length, or null when no frame of the format has exactly that length. */
export function dlcOf(lengthBytes: number, format: FrameFormat): number | null {
  const dlc = FD_LENGTHS.indexOf(lengthBytes);
  return dlc < 0 || (format === 'classic' && dlc > 8) ? null : dlc;
}

/** Payload bytes of a data length code 0–15; in a classical frame the codes 9–15 mean 8 bytes too. Null for other numbers. */
export function lengthOfDlc(dlc: number, format: FrameFormat): number | null {
  const length = FD_LENGTHS[dlc];
  if (length === undefined) return null;
  return format === 'classic' ? Math.min(length, 8) : length;
}

/** The shortest frame of the format that holds so many bytes (the rest is padding), or null when none is long enough. */
export function frameLengthFor(lengthBytes: number, format: FrameFormat): number | null {
  if (!(lengthBytes >= 0)) return null;
  const length = FD_LENGTHS.find((candidate) => candidate >= lengthBytes) ?? null;
  return length !== null && format === 'classic' && length > 8 ? null : length;
}
