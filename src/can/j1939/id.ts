/**
 * A 29-bit frame id read by SAE J1939-21. `pgn` is the parameter group number. A group is sent to one address (`destination` is a number,
 * PDU format below 240, "PDU1") or to all (`destination` is null, "PDU2": the low byte of the group number is a group extension).
 */
export interface J1939Id {
  /** 0 (highest) … 7. */
  readonly priority: number;
  /** 0 … 0x3FFFF: extended data page, data page, PDU format, and for PDU2 the group extension. */
  readonly pgn: number;
  /** Source address, 0 … 255; 254 is the null address. */
  readonly source: number;
  /** Destination address, 255 = everyone, or null for a PDU2 group. */
  readonly destination: number | null;
}

/** PDU formats from here on are PDU2. SAE J1939-21. */
const PDU2_FROM = 240;

/** Reads a 29-bit frame id. @throws RangeError when it is not a whole number below 2^29. */
export function readJ1939Id(frameId: number): J1939Id {
  if (!Number.isInteger(frameId) || frameId < 0 || frameId > 0x1fff_ffff) {
    throw new RangeError(`${frameId} is not a frame id of 29 bits`);
  }
  const priority = frameId >>> 26;
  const pages = (frameId >>> 24) & 0x3;
  const pduFormat = (frameId >>> 16) & 0xff;
  const pduSpecific = (frameId >>> 8) & 0xff;
  const toOne = pduFormat < PDU2_FROM;
  return {
    priority,
    pgn: (pages << 16) | (pduFormat << 8) | (toOne ? 0 : pduSpecific),
    source: frameId & 0xff,
    destination: toOne ? pduSpecific : null,
  };
}

/**
 * The 29-bit frame id of a parameter group. A PDU1 group without a destination goes to everyone (255).
 * @throws RangeError when a part is out of range, a PDU1 group number has a low byte, or a PDU2 group is given a destination.
 */
export function writeJ1939Id({ priority, pgn, source, destination }: J1939Id): number {
  inRange('priority', priority, 7);
  inRange('parameter group number', pgn, 0x3ffff);
  inRange('source address', source, 0xff);
  const toOne = ((pgn >> 8) & 0xff) < PDU2_FROM;
  if (toOne && (pgn & 0xff) !== 0)
    throw new RangeError(`parameter group ${pgn} is sent to one address: its low byte must be 0`);
  if (!toOne && destination !== null)
    throw new RangeError(`parameter group ${pgn} is sent to all: it has no destination`);
  if (destination !== null) inRange('destination address', destination, 0xff);
  const specific = toOne ? (destination ?? 0xff) : 0;
  return priority * 2 ** 26 + pgn * 2 ** 8 + specific * 2 ** 8 + source;
}

function inRange(what: string, value: number, most: number): void {
  if (!Number.isInteger(value) || value < 0 || value > most)
    throw new RangeError(`${what} ${value} is not from 0 to ${most}`);
}
