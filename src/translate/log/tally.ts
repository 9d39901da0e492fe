import { MOST_FAULTS, MOST_UNMAPPED, type LogEvent, type LogFault, type LogReport } from './event.ts';
import { createOrder, type Order } from './order.ts';
import { printable } from './printable.ts';

/** Counts what a reader meets and keeps its events in order. */
export interface Tally {
  readonly report: LogReport;
  readonly order: Order;
  event(event: LogEvent): void;
  fault(line: number, column: number, problem: string): void;
  count(what: 'remote' | 'errors'): void;
  unmapped(interfaceName: string): void;
}

export function createTally(lines: () => number): Tally {
  const faults: LogFault[] = [];
  const unmapped = new Map<string, number>();
  const counts = { frames: 0, levels: 0, remote: 0, errors: 0, bad: 0 };
  /** Times of the first and the last event. */
  const span = Float64Array.of(Infinity, -Infinity);
  const order = createOrder();
  const fault = (line: number, column: number, problem: string): void => {
    counts.bad += 1;
    if (faults.length < MOST_FAULTS) faults.push({ line, column, problem });
  };
  return {
    order,
    report: {
      get lines() {
        return lines();
      },
      get frames() {
        return counts.frames;
      },
      get levels() {
        return counts.levels;
      },
      get remote() {
        return counts.remote;
      },
      get errors() {
        return counts.errors;
      },
      get bad() {
        return counts.bad;
      },
      get firstUs() {
        return span[0] === Infinity ? null : span[0]!;
      },
      get lastUs() {
        return span[0] === Infinity ? null : span[1]!;
      },
      faults,
      unmapped,
    },
    event(event) {
      const problem = order.add(event);
      if (problem !== null) {
        fault(event.line, 1, problem);
        return;
      }
      if (event.kind === 'frame') counts.frames += 1;
      else counts.levels += 1;
      if (event.timeUs < span[0]!) span[0] = event.timeUs;
      if (event.timeUs > span[1]!) span[1] = event.timeUs;
    },
    fault,
    count(what) {
      counts[what] += 1;
    },
    unmapped(interfaceName) {
      const name = printable(interfaceName);
      const key = unmapped.has(name) || unmapped.size < MOST_UNMAPPED ? name : OTHERS;
      unmapped.set(key, (unmapped.get(key) ?? 0) + 1);
    },
  };
}

/** Stands for all interface names beyond `MOST_UNMAPPED`; no interface name holds a blank. */
const OTHERS = 'all others';
