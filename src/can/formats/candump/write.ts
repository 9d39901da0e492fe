import { type CandumpFrame, ERROR_ID_BIT } from './frame.ts';

/** `log`: what a log file holds, and what is read back exactly. `plain`: spaced out for people; loses flags and direction. */
export type CandumpLayout = 'log' | 'plain';

/**
 * A frame as one line, without the line break. `parseCandumpLine` of a line in `log` layout gives the frame back. Without a time the time is left
 * out, which players of log files may refuse.
 */
export function formatCandumpFrame(frame: CandumpFrame, layout: CandumpLayout = 'log'): string {
  return layout === 'log' ? logLine(frame) : plainLine(frame);
}

function logLine(frame: CandumpFrame): string {
  const direction = frame.direction === null ? '' : frame.direction === 'received' ? ' R' : ' T';
  const head = `${timeText(frame)}${frame.interfaceName} ${idText(frame)}#`;
  switch (frame.kind) {
    case 'data': {
      const flags = frame.frameFormat === 'fd' ? `#${frame.flags.toString(16).toUpperCase()}` : '';
      const dlc = frame.rawDlc === null ? '' : `_${frame.rawDlc.toString(16).toUpperCase()}`;
      return `${head}${flags}${hexText(frame.bytes, '')}${dlc}${direction}`;
    }
    case 'remote':
      return `${head}R${frame.requestedBytes === 0 ? '' : frame.requestedBytes}${direction}`;
    case 'error':
      return `${head}${hexText(frame.bytes, '')}${direction}`;
  }
}

function plainLine(frame: CandumpFrame): string {
  const head = `${timeText(frame)} ${frame.interfaceName}  ${idText(frame)}`;
  switch (frame.kind) {
    case 'data': {
      const { length } = frame.bytes;
      const shown = frame.frameFormat === 'fd' ? `  [${String(length).padStart(2, '0')}]` : `   [${length}]`;
      return `${head}${shown}${length === 0 ? '' : `  ${hexText(frame.bytes, ' ')}`}`;
    }
    case 'remote':
      return `${head}   [${frame.requestedBytes}]  remote request`;
    case 'error':
      return `${head}   [${frame.bytes.length}]  ${hexText(frame.bytes, ' ')}  ERRORFRAME`;
  }
}

function timeText({ timeUs, restNs }: CandumpFrame): string {
  if (timeUs === null) return '';
  const seconds = Math.floor(timeUs / 1e6);
  const micro = String(timeUs - seconds * 1e6).padStart(6, '0');
  const nano = restNs === 0 ? '' : String(restNs).padStart(3, '0');
  return `(${String(seconds).padStart(10, '0')}.${micro}${nano}) `;
}

function idText(frame: CandumpFrame): string {
  if (frame.kind === 'error') return hexNumber(frame.errorClass + ERROR_ID_BIT, 8);
  return hexNumber(frame.frameId, frame.idFormat === 'standard' ? 3 : 8);
}

function hexNumber(value: number, digits: number): string {
  return value.toString(16).toUpperCase().padStart(digits, '0');
}

const BYTE_TEXT: readonly string[] = Array.from({ length: 256 }, (_, byte) => hexNumber(byte, 2));

function hexText(bytes: Uint8Array, between: string): string {
  let text = '';
  for (let i = 0; i < bytes.length; i += 1) text += (i === 0 ? '' : between) + BYTE_TEXT[bytes[i]!]!;
  return text;
}
