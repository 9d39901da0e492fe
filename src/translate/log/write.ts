import { FD_FLAGS, formatCandumpFrame } from '../../can/index.ts';
import type { Pairing } from '../../model/index.ts';
import type { ReplayFrame, WireLevel } from '../replay/types.ts';
import type { BusNames } from './bus-names.ts';
import { levelText, levelWords } from './wire-level.ts';
import { WIRE_LOG_COLUMNS } from './wire-log.ts';

/** Writes frames as lines of candump's log layout, each with its line end, that `frameLogReader` with the same names reads back. */
export function frameLogWriter({ nameOf }: BusNames): (frame: ReplayFrame & { readonly fd: boolean }) => string {
  return ({ timeUs, bus, frameId, extended, fd, data }) =>
    `${formatCandumpFrame({
      kind: 'data',
      timeUs,
      restNs: 0,
      interfaceName: nameOf(bus),
      direction: null,
      frameId,
      idFormat: extended ? 'extended' : 'standard',
      frameFormat: fd ? 'fd' : 'classic',
      flags: fd ? FD_FLAGS.fdFrame : 0,
      bytes: data,
      rawDlc: null,
    })}\n`;
}

/** The first line of a table of wire levels. */
export const WIRE_LOG_HEADER = `${WIRE_LOG_COLUMNS.join(',')}\n`;

/** Writes levels as lines of the table that `wireLogReader` reads, each with its line end; `WIRE_LOG_HEADER` goes before them. */
export function wireLogWriter(
  pairing: Pairing,
): (level: { readonly timeUs: number; readonly wire: string; readonly level: WireLevel }) => string {
  const quantities = new Map<string, ReturnType<typeof levelWords>['of']>();
  const quantityOf = (ref: string): ReturnType<typeof levelWords>['of'] => {
    const known = quantities.get(ref);
    if (known !== undefined) return known;
    const endpoint = pairing.find(ref);
    const of = endpoint?.kind === 'wire' ? levelWords(endpoint.wire).of : null;
    quantities.set(ref, of);
    return of;
  };
  return ({ timeUs, wire, level }) => `${seconds(timeUs)},${wire},${levelText(level, quantityOf(wire))}\n`;
}

function seconds(timeUs: number): string {
  const whole = Math.floor(timeUs / 1e6);
  return `${whole}.${String(timeUs - whole * 1e6).padStart(6, '0')}`;
}
