import { candumpLineTooLong, linesOf, MAX_LINE_CHARACTERS, parseCandumpLine } from '../../can/index.ts';
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
    switch (frame.kind) {
      case 'fault':
        tally.fault(number, frame.column, frame.problem);
        return;
      case 'error':
        tally.count('errors');
        return;
      case 'remote':
        tally.count('remote');
        return;
      case 'data': {
        const bus = buses.busOf(frame.interfaceName);
        if (bus === null) tally.unmapped(frame.interfaceName);
        else if (frame.timeUs === null)
          tally.fault(number, 1, 'the frame has no time: record with absolute times, (1436509052.249713)');
        else
          tally.event({
            kind: 'frame',
            timeUs: frame.timeUs,
            bus,
            frameId: frame.frameId,
            extended: frame.idFormat === 'extended',
            fd: frame.frameFormat === 'fd',
            data: frame.bytes,
            line: number,
          });
      }
    }
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
