import { firstCount, nextCount } from '../../can/index.ts';
import type { ModulePlan, Page, PlannedTransmit } from '../plan/types.ts';
import { type WriteField, fieldWriter } from './fast-field.ts';
import { EMPTY_LANE, type Lane, type LaneState, laneOf, runLane } from './lane.ts';
import { type LaneFunction, type MakeFunction, laneFunction } from './lane-code.ts';
import type { Outcome } from './route-run.ts';
import { checksumWriter } from './sources.ts';

/** A message being sent by an interface module. */
export interface TransmitRun {
  /** Sends the page whose turn it is, unless a route wants it not to be sent. */
  inTurn(timeUs: number): void;
  /** Sends the first page that differs from what was last sent of it, if the minimum gap has passed. */
  changed(minGapUs: number, timeUs: number): void;
}

export interface TransmitPorts {
  readonly lane: LaneState;
  readonly offsets: readonly number[];
  /** False where every route must be told of, one by one: no lane then. */
  readonly lanes: boolean;
  /** Where lanes may become code of their own. */
  readonly makeFunction: MakeFunction | undefined;
  /** What is written for the first of the routes that has a value, else for the first. */
  outcomeOf(routes: readonly number[], timeUs: number): Outcome;
  readonly send: (data: Uint8Array, timeUs: number) => void;
}

interface RunningPage {
  readonly content: Uint8Array;
  /** Runs the routes of the lane; null: there are none. */
  readonly lane: LaneFunction | null;
  readonly fields: readonly { readonly routes: readonly number[]; readonly write: WriteField }[];
  readonly lastSent: Uint8Array;
  everSent: boolean;
}

export function createTransmitRun(plan: ModulePlan, transmit: PlannedTransmit, ports: TransmitPorts): TransmitRun {
  const pages = transmit.pages.map((page) => runningPage(plan, page, ports));
  const sending = new Uint8Array(transmit.lengthBytes);
  const protect = protecting(transmit);
  const remembers = transmit.cadence.kind === 'on-change' || transmit.cadence.kind === 'cyclic-and-on-change';
  const only = pages.length === 1 ? pages[0]! : null;
  let turn = 0;
  /** When it was last sent. A double in an array costs no allocation when it is set. */
  const lastUs = Float64Array.of(-Infinity);

  /** Brings a page up to date; false when a route wants it not to be sent. */
  const fill = (page: RunningPage, timeUs: number): boolean => {
    const { content, lane, fields } = page;
    let sent = lane === null || lane(timeUs);
    for (let at = 0; at < fields.length; at += 1) {
      const field = fields[at]!;
      const outcome = ports.outcomeOf(field.routes, timeUs);
      if (outcome.written) field.write(content, outcome.raw);
      else sent = false;
    }
    return sent;
  };
  const { send: emit } = ports;
  const send = (page: RunningPage, timeUs: number): void => {
    if (remembers) {
      lastUs[0] = timeUs;
      page.lastSent.set(page.content);
      page.everSent = true;
    }
    if (protect === null) {
      emit(page.content, timeUs);
      return;
    }
    sending.set(page.content);
    protect(sending);
    emit(sending, timeUs);
  };
  if (only !== null && only.fields.length === 0 && only.lane !== null && protect === null && !remembers) {
    // The plainest message, which is most of them.
    const { lane, content } = only;
    return {
      inTurn(timeUs) {
        if (lane(timeUs)) emit(content, timeUs);
      },
      changed: () => undefined,
    };
  }
  return {
    inTurn(timeUs) {
      const page = only ?? pages[turn]!;
      if (!fill(page, timeUs)) return;
      send(page, timeUs);
      if (only === null) turn = turn + 1 === pages.length ? 0 : turn + 1;
    },
    changed(minGapUs, timeUs) {
      if (timeUs - lastUs[0]! < minGapUs) return;
      for (let step = 0; step < pages.length; step += 1) {
        const index = (turn + step) % pages.length;
        const page = pages[index]!;
        if (!fill(page, timeUs) || (page.everSent && same(page.content, page.lastSent))) continue;
        send(page, timeUs);
        turn = (index + 1) % pages.length;
        return;
      }
    },
  };
}

function runningPage(plan: ModulePlan, page: Page, ports: TransmitPorts): RunningPage {
  // The bytes, seen as words of this machine too, with one to spare.
  const buffer = new ArrayBuffer((Math.ceil(page.base.length / 4) + 1) * 4);
  const content = new Uint8Array(buffer, 0, page.base.length);
  content.set(page.base);
  const { lane, rest } = ports.lanes ? laneOf(plan, page, ports.offsets) : { lane: EMPTY_LANE, rest: page.fields };
  return {
    content,
    lane: lane.count === 0 ? null : laneRun(lane, new Int32Array(buffer), ports),
    fields: rest.map(({ routes }) => ({ routes, write: writerOf(plan, routes[0]!) })),
    lastSent: new Uint8Array(page.base.length),
    everSent: false,
  };
}

function laneRun(lane: Lane, words: Int32Array, { lane: state, makeFunction }: TransmitPorts): LaneFunction {
  if (makeFunction !== undefined) return laneFunction(lane, state, words, makeFunction);
  return (timeUs) => runLane(lane, state, words, timeUs);
}

function same(a: Uint8Array, b: Uint8Array): boolean {
  for (let index = 0; index < a.length; index += 1) if (a[index] !== b[index]) return false;
  return true;
}

/** How a route's raw value is put into its payload. */
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
  const seal = checksum === null ? null : checksumWriter(checksum);
  return (data) => {
    if (counter !== null && writeCount !== null) {
      writeCount(data, count);
      count = nextCount(count, counter.spec);
    }
    seal?.(data);
  };
}
