import { firstCount, nextCount } from '../../can/index.ts';
import type { ModulePlan, PlannedTransmit } from '../plan/types.ts';
import { type WriteField, fieldWriter } from './fast-field.ts';
import type { Outcome } from './route-run.ts';
import { writeChecksum } from './sources.ts';

/** A message being sent by an interface module. */
export interface TransmitRun {
  /** Something is due at this tick. */
  tick(timeUs: number): void;
  /** A message it is made from has come in. */
  trigger(timeUs: number): void;
  /** Sets the clock of the cadence going. */
  start(timeUs: number): void;
}

export interface TransmitPorts {
  /** Works out the first of the routes that has a value, else the first; what is written for it. */
  outcomeOf(routes: readonly number[], timeUs: number): Outcome;
  send(data: Uint8Array, timeUs: number): void;
}

export function createTransmitRun(plan: ModulePlan, transmit: PlannedTransmit, ports: TransmitPorts): TransmitRun {
  const { cadence } = transmit;
  const pages = transmit.pages.map((page) => ({
    content: page.base.slice(),
    lastSent: new Uint8Array(page.base.length),
    everSent: false,
    fields: page.fields.map(({ routes }): { routes: readonly number[]; write: WriteField } => ({
      routes,
      write: writerOf(plan, routes[0]!),
    })),
  }));
  const sending = new Uint8Array(transmit.lengthBytes);
  const protect = protecting(transmit);
  let page = 0;
  let dueUs = 0;
  let lastUs = -Infinity;

  /** Brings a page up to date; false when a route wants it not to be sent. */
  const fill = (index: number, timeUs: number): boolean => {
    const { content, fields } = pages[index]!;
    let sent = true;
    for (let at = 0; at < fields.length; at += 1) {
      const field = fields[at]!;
      const outcome = ports.outcomeOf(field.routes, timeUs);
      if (outcome.written) field.write(content, outcome.raw);
      else sent = false;
    }
    return sent;
  };
  const send = (index: number, timeUs: number): void => {
    const entry = pages[index]!;
    lastUs = timeUs;
    if (remembers) {
      entry.lastSent.set(entry.content);
      entry.everSent = true;
    }
    if (protect === null) {
      ports.send(entry.content, timeUs);
      return;
    }
    sending.set(entry.content);
    protect(sending);
    ports.send(sending, timeUs);
  };
  const remembers = cadence.kind === 'on-change' || cadence.kind === 'cyclic-and-on-change';
  const inTurn = (timeUs: number): void => {
    const index = page;
    if (fill(index, timeUs)) {
      send(index, timeUs);
      page = index + 1 === pages.length ? 0 : index + 1;
    }
  };
  const changed = (minGapUs: number, timeUs: number): void => {
    if (timeUs - lastUs < minGapUs) return;
    for (let step = 0; step < pages.length; step += 1) {
      const index = (page + step) % pages.length;
      if (!fill(index, timeUs)) continue;
      const { content, lastSent, everSent } = pages[index]!;
      if (everSent && same(content, lastSent)) continue;
      send(index, timeUs);
      page = (index + 1) % pages.length;
      return;
    }
  };
  const isDue = (cycleUs: number, timeUs: number): boolean => {
    if (timeUs < dueUs) return false;
    dueUs += cycleUs;
    // A cycle shorter than the period, or time that jumped: the next moment of the grid.
    if (dueUs <= timeUs) dueUs += Math.ceil((timeUs - dueUs + 1) / cycleUs) * cycleUs;
    return true;
  };
  return {
    start(timeUs) {
      if (cadence.kind === 'cyclic' || cadence.kind === 'cyclic-and-on-change') dueUs = timeUs + cadence.phaseUs;
    },
    tick(timeUs) {
      switch (cadence.kind) {
        case 'cyclic':
          if (isDue(cadence.cycleUs, timeUs)) inTurn(timeUs);
          return;
        case 'on-change':
          changed(cadence.minGapUs, timeUs);
          return;
        case 'cyclic-and-on-change':
          if (isDue(cadence.cycleUs, timeUs)) inTurn(timeUs);
          else changed(cadence.minGapUs, timeUs);
          return;
        case 'forwarded':
          return;
      }
    },
    trigger: inTurn,
  };
}

function same(a: Uint8Array, b: Uint8Array): boolean {
  for (let index = 0; index < a.length; index += 1) if (a[index] !== b[index]) return false;
  return true;
}

function writerOf({ routes }: ModulePlan, index: number): WriteField {
  const { output } = routes[index]!.compiled.program;
  if (output.kind !== 'field' && output.kind !== 'float-field') return () => undefined;
  return fieldWriter(output.bits, output.number);
}

/** Puts the next count and then the checksum into a payload; null when there is neither. */
function protecting({ counter, checksum }: PlannedTransmit): ((data: Uint8Array) => void) | null {
  if (counter === null && checksum === null) return null;
  const writeCount = counter === null ? null : fieldWriter(counter.bits, 'unsigned');
  let count = counter === null ? 0 : firstCount(counter.spec);
  return (data) => {
    if (counter !== null && writeCount !== null) {
      writeCount(data, count);
      count = nextCount(count, counter.spec);
    }
    if (checksum !== null) writeChecksum(checksum, data);
  };
}
