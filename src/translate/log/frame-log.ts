import {
  type CandumpData,
  candumpLineTooLong,
  linesOf,
  MAX_LINE_CHARACTERS,
  parseCandumpLine,
} from '../../can/index.ts';
import type { BusNames } from './bus-names.ts';
import type { LogReader } from './event.ts';
import { createTally } from './tally.ts';

/**
 * Reads a log in candump's format, both layouts (see `parseCandumpLine`). A frame takes the bus its interface stands for; frames of
 * other interfaces, remote frames and controller reports are counted and left out. Times are whole microseconds: what a log has
 * beyond them is dropped. Every line that cannot be used is named and counted, the rest is kept.
 */
export function frameLogReader(buses: BusNames): LogReader {
  const lines = linesOf(MAX_LINE_CHARACTERS, read, (number) => {
    const { line, column, problem } = candumpLineTooLong(number);
    tally.fault(line, column, problem);
  });
  const tally = createTally(() => lines.count);

  function read(text: string, number: number): void {
    const frame = parseCandumpLine(text, number);
    if (frame === null) return;
    // Nearly every line; looked for by a switch it costs more than reading the line.
    if (frame.kind === 'data') take(frame, number);
    else if (frame.kind === 'fault') tally.fault(number, frame.column, frame.problem);
    else tally.count(frame.kind === 'error' ? 'errors' : 'remote');
  }

  function take({ timeUs, interfaceName, frameId, idFormat, frameFormat, bytes }: CandumpData, line: number): void {
    const bus = buses.busOf(interfaceName);
    if (bus === null) tally.unmapped(interfaceName);
    else if (timeUs === null)
      tally.fault(line, 1, 'the frame has no time: record with absolute times, (1436509052.249713)');
    else
      tally.event({
        kind: 'frame',
        timeUs,
        bus,
        frameId,
        extended: idFormat === 'extended',
        fd: frameFormat === 'fd',
        data: bytes,
        line,
      });
  }

  return {
    report: tally.report,
    push(chunk) {
      lines.push(chunk);
      return tally.order.ready();
    },
    end() {
      lines.end();
      return tally.order.rest();
    },
  };
}
