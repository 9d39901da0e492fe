import { compileField } from '../../can/index.ts';
import { type Endpoint, type Pairing, type Signal, sideRef } from '../../model/index.ts';
import { domainOfEndpoint } from '../domain/endpoint-domain.ts';
import type { ModulePlan, PlannedRoute, PlannedTransmit } from '../plan/types.ts';
import type { LossAction } from '../program/loss-plan.ts';
import type { WireLevel } from '../replay/types.ts';
import { roomOf } from '../vectors/written.ts';
import type { FieldRoutes } from './allowed.ts';
import type { Collector, RouteCount } from './collector.ts';
import { type CopyWatch, createCopyWatch } from './copy-watch.ts';
import { type FieldJudge, createFieldJudge, valueText } from './field-judge.ts';
import { type MessageWatch, type WatchedField, type WatchedPage, createMessageWatch } from './message-watch.ts';
import { type Shadow, createShadow } from './shadow.ts';
import { steadyPlan } from './steady.ts';
import type { MessageTally } from './types.ts';
import { type WireWatch, createWireWatch } from './wire-watch.ts';

/** One interface module under judgement. */
export interface ModuleWatch {
  /** What the frame is to the module. */
  frame(
    bus: string,
    frameId: number,
    extended: boolean,
    data: Uint8Array,
    timeUs: number,
  ): 'source' | 'sent' | 'both' | 'neither';
  wire(ref: string, level: WireLevel, timeUs: number): void;
  tick(timeUs: number): void;
  messages(): readonly MessageTally[];
  unheard(): readonly string[];
  unseenSources(): readonly string[];
}

export interface WatchSetting {
  readonly busUs: number;
  readonly steps: number;
  readonly part: number;
  readonly collector: Collector;
  readonly countOf: (route: string) => RouteCount;
}

/** An older value is looked for so far back. */
const LATE_US = 2_000_000;

export function createModuleWatch(pairing: Pairing, plan: ModulePlan, setting: WatchSetting): ModuleWatch {
  const { busUs, collector, countOf } = setting;
  const ageUs = plan.periodUs + plan.latencyUs + busUs;
  const roundsUs = plan.routes.map((_, route) => roundOf(plan, route));
  const { plan: steady, inTime } = steadyPlan(pairing, plan);
  const settleOf = (route: number): number => inTime.get(route)?.settleUs ?? 0;
  const shadow = createShadow(steady, {
    slackUs: busUs,
    ageUs: ageUs + plan.periodUs,
    horizonUs: (route) => LATE_US + ageUs + roundsUs[route]! + settleOf(route),
    writtenUs: (route) => ageUs + plan.periodUs + roundsUs[route]!,
    asksForReading: (route) => inTime.get(route)?.by === 'still',
    cycleUs: (message) => cycleOf(pairing, plan.received[message]!.ref),
  });
  const judgeFor = (indexes: readonly number[], end: Endpoint, float: boolean, level: boolean): FieldJudge => {
    const routes = indexes.map((index) => plan.routes[index]!);
    const stepsInTime = indexes.length === 1 ? (inTime.get(indexes[0]!) ?? null) : null;
    const field: FieldRoutes = {
      routes,
      histories: indexes.map((index) => shadow.histories[index]!),
      ageUs,
      // A forwarded message is made up when something comes in: a hold then begins whenever that may be.
      roundUs: isForwarded(plan, indexes[0]!) ? Infinity : roundsUs[indexes[0]!]!,
      inTime: stepsInTime,
    };
    return createFieldJudge({
      routes: field,
      indexes,
      shadow,
      subject: subjectOf(end),
      domain: domainOfEndpoint(end),
      float,
      // A filter rounds at every tick.
      steps: stepsFor(routes, setting.steps) + (stepsInTime?.by === 'within' ? 1 : 0),
      part: level ? setting.part : 0,
      lateUs: LATE_US,
      count: countOf(routes[0]!.route.id),
      collector,
    });
  };
  const relays = pairing.map.routes.filter(({ carrier, by }) => carrier === 'bus' && by === plan.module.id);
  const copies: { readonly watch: CopyWatch; readonly transmit: PlannedTransmit; readonly source: string }[] = [];
  const watches: { readonly watch: MessageWatch; readonly transmit: PlannedTransmit }[] = [];
  plan.transmits.forEach((transmit) => {
    const relay = relays.find(({ to }) => to === transmit.ref);
    const source = transmit.copyOf === null ? relay?.from[0] : plan.received[transmit.copyOf]!.ref;
    if (source !== undefined) {
      const route = relay?.id ?? copyRoute(pairing, plan, transmit);
      copies.push({ transmit, source, watch: createCopyWatch(transmit.ref, route, ageUs, countOf(route), collector) });
      return;
    }
    watches.push({
      transmit,
      watch: createMessageWatch({
        transmit,
        pages: watchedPages(pairing, plan, transmit, judgeFor),
        periodUs: plan.periodUs,
        latencyUs: plan.latencyUs,
        ageUs,
        busUs,
        startUs: plan.startUs + plan.periodUs,
        collector,
      }),
    });
  });
  const wires = new Map<string, WireWatch>();
  for (const { ref, kind, routes } of plan.wiresOut) {
    const end = pairing.find(ref)!;
    const judge = judgeFor(routes, end, false, kind === 'measured');
    const domain = domainOfEndpoint(end);
    const tolerance = (raw: number): number =>
      stepsFor(judge.routes.routes, setting.steps) + (kind === 'measured' ? Math.abs(raw) * setting.part : 0);
    wires.set(
      ref,
      createWireWatch(ref, judge, plan.periodUs, tolerance, (raw) => valueText(raw, domain), collector),
    );
  }
  const table = dispatchTable(pairing, plan, watches, copies, shadow);
  const seenSources = new Set<string>();
  const inputs = new Map(plan.wiresIn.map((wire, index) => [wire.ref, { index, kind: wire.kind }]));
  return {
    frame(bus, frameId, extended, data, timeUs) {
      const entry = table.get(keyOf(bus, frameId, extended));
      if (entry === undefined) return 'neither';
      shadow.advance(timeUs);
      if (entry.sent.length > 0) shadow.begin();
      for (const take of entry.sent) take(data, timeUs);
      for (const take of entry.source) take(data, timeUs);
      if (entry.ref !== null) seenSources.add(entry.ref);
      return entry.sent.length > 0 ? (entry.source.length > 0 ? 'both' : 'sent') : 'source';
    },
    wire(ref, level, timeUs) {
      shadow.advance(timeUs);
      const input = inputs.get(ref);
      if (input !== undefined && level.kind === input.kind) {
        seenSources.add(ref);
        shadow.level(
          input.index,
          level.kind === 'switched' ? Number(level.active) : Math.round(level.thousandths),
          timeUs,
        );
      }
      const driven = wires.get(ref);
      if (driven === undefined) return;
      if (level.kind !== 'open') shadow.begin();
      driven.level(level, timeUs);
    },
    tick(timeUs) {
      shadow.advance(timeUs);
      for (const { watch } of watches) watch.tick(timeUs);
      for (const { watch } of copies) watch.tick(timeUs);
      for (const watch of wires.values()) watch.tick(timeUs);
    },
    messages: () => [
      ...watches.map(({ watch: { counts }, transmit }) => ({
        message: transmit.ref,
        by: plan.module.id,
        bus: transmit.bus,
        frames: counts.frames,
        late: counts.late,
        missing: counts.missing,
        extra: counts.extra,
        counter: counts.counter,
        checksum: counts.checksum,
      })),
      ...copies.map(({ watch, transmit }) => ({
        message: transmit.ref,
        by: plan.module.id,
        bus: transmit.bus,
        frames: watch.frames,
        late: 0,
        missing: 0,
        extra: 0,
        counter: 0,
        checksum: 0,
      })),
    ],
    unheard: () => [
      ...watches
        .filter(({ watch: { counts } }) => counts.frames === 0 && counts.missing > 0)
        .map(({ transmit }) => transmit.ref),
      ...[...wires].filter(([, watch]) => !watch.heard).map(([ref]) => ref),
    ],
    unseenSources: () =>
      [...plan.received.map(({ ref }) => ref), ...plan.wiresIn.map(({ ref }) => ref)].filter(
        (ref) => !seenSources.has(ref),
      ),
  };
}

type Take = (data: Uint8Array, timeUs: number) => void;

interface Roles {
  /** Source message, if it is one. */
  ref: string | null;
  readonly source: Take[];
  readonly sent: Take[];
}

function keyOf(bus: string, frameId: number, extended: boolean): string {
  return `${bus} ${extended ? 'x' : ''}${frameId}`;
}

function dispatchTable(
  pairing: Pairing,
  plan: ModulePlan,
  watches: readonly { readonly watch: MessageWatch; readonly transmit: PlannedTransmit }[],
  copies: readonly { readonly watch: CopyWatch; readonly transmit: PlannedTransmit; readonly source: string }[],
  shadow: Shadow,
): ReadonlyMap<string, Roles> {
  const table = new Map<string, Roles>();
  const at = (bus: string, frameId: number, extended: boolean): Roles => {
    const key = keyOf(bus, frameId, extended);
    const known = table.get(key) ?? { ref: null, source: [], sent: [] };
    table.set(key, known);
    return known;
  };
  plan.received.forEach(({ ref, bus, frameId, extended, triggers }, message) => {
    const roles = at(bus, frameId, extended);
    roles.ref = ref;
    roles.source.push((data, timeUs) => {
      shadow.frame(message, data, timeUs);
      for (const position of triggers) {
        const ref2 = plan.transmits[position]!.ref;
        watches.find(({ transmit }) => transmit.ref === ref2)?.watch.trigger(timeUs);
      }
    });
  });
  for (const { watch, transmit, source } of copies) {
    const end = pairing.find(source);
    if (end?.kind === 'message') {
      const { message, side } = end;
      const roles = at(sideRef(side, message.bus), Number(message.frameId), message.idFormat === 'extended');
      roles.ref ??= source;
      roles.source.push((data, timeUs) => watch.source(data, timeUs));
    }
    at(transmit.bus, transmit.frameId, transmit.extended).sent.push((data, timeUs) => watch.frame(data, timeUs));
  }
  for (const { watch, transmit } of watches)
    at(transmit.bus, transmit.frameId, transmit.extended).sent.push((data, timeUs) => watch.frame(data, timeUs));
  return table;
}

function watchedPages(
  pairing: Pairing,
  plan: ModulePlan,
  transmit: PlannedTransmit,
  judgeFor: (indexes: readonly number[], end: Endpoint, float: boolean, level: boolean) => FieldJudge,
): readonly WatchedPage[] {
  const message = pairing.find(transmit.ref);
  const selectors = new Uint8Array(transmit.lengthBytes);
  if (message?.kind === 'message' && transmit.pages.length > 1) {
    const used = new Set(message.message.signals.flatMap(({ multiplexed }) => multiplexed?.by ?? []));
    for (const signal of message.message.signals) if (used.has(signal.id)) setBits(selectors, signal.bits);
  }
  return transmit.pages.map(({ base, fields }) => {
    const fixed = new Uint8Array(transmit.lengthBytes).fill(0xff);
    if (transmit.counter !== null) clearBits(fixed, transmit.counter.bits);
    if (transmit.checksum !== null) clearBits(fixed, transmit.checksum.field);
    const watched = fields.flatMap(({ routes }): WatchedField[] => {
      const end = pairing.find(plan.routes[routes[0]!]!.route.to);
      if (end?.kind !== 'signal') return [];
      const { signal } = end;
      clearBits(fixed, signal.bits);
      const float = signal.number === 'float32' || signal.number === 'float64';
      const domain = domainOfEndpoint(end);
      return [
        {
          judge: judgeFor(routes, end, float, false),
          signal: signal.id,
          read: compileField(signal.bits, signal.number).read,
          float,
          text: (raw) => valueText(raw, domain),
          mayStop: mayStop(plan.routes[routes[0]!]!),
        },
      ];
    });
    return { base, selectors, fixed, fields: watched };
  });
}

function setBits(bytes: Uint8Array, bits: Signal['bits']): void {
  compileField(bits, 'unsigned').write(bytes, (1n << BigInt(bits.length)) - 1n);
}

function clearBits(bytes: Uint8Array, bits: Signal['bits']): void {
  compileField(bits, 'unsigned').write(bytes, 0n);
}

/** Whether a route without a value can keep its message back. */
function mayStop({ compiled: { loss } }: PlannedRoute): boolean {
  const stops = (action: LossAction): boolean =>
    action.kind === 'stop' || (action.kind === 'hold' && stops(action.then));
  return stops(loss.onLoss) || stops(loss.atStart);
}

function stepsFor(routes: readonly PlannedRoute[], steps: number): number {
  const converted = routes.some(({ compiled: { program } }) => program.nodes.some(({ kind }) => kind !== 'table'));
  return Math.max(...routes.map(roomOf)) + (converted ? steps : 0);
}

function transmitOf({ transmits }: ModulePlan, route: number): PlannedTransmit | undefined {
  return transmits.find(({ pages }) => pages.some(({ fields }) => fields.some(({ routes }) => routes.includes(route))));
}

function isForwarded(plan: ModulePlan, route: number): boolean {
  return transmitOf(plan, route)?.cadence.kind === 'forwarded';
}

/** How long until a field is sent again: the cycle, times the pages. */
function roundOf(plan: ModulePlan, route: number): number {
  const transmit = transmitOf(plan, route);
  if (transmit === undefined) return plan.periodUs;
  const { cadence, pages } = transmit;
  switch (cadence.kind) {
    case 'cyclic':
    case 'cyclic-and-on-change':
      return (cadence.cycleUs + plan.periodUs) * pages.length;
    case 'on-change':
      return (cadence.minGapUs + plan.periodUs) * pages.length;
    case 'forwarded':
      return FORWARDED_ROUND_US * pages.length;
  }
}

/** A forwarded message is made up when something comes in; nobody says how often. */
const FORWARDED_ROUND_US = 500_000;

function cycleOf(pairing: Pairing, ref: string): number | null {
  const end = pairing.find(ref);
  if (end?.kind !== 'message' || end.message.cycleMs === undefined || end.message.send === 'on-change') return null;
  return end.message.cycleMs * 1000;
}

function copyRoute(pairing: Pairing, plan: ModulePlan, { ref }: PlannedTransmit): string {
  return pairing.map.routes.find(({ to, by }) => to === ref && (by === undefined || by === plan.module.id))?.id ?? ref;
}

function subjectOf(end: Endpoint): string {
  return end.kind === 'signal' ? `${end.side}:${end.message.id}` : end.ref;
}
