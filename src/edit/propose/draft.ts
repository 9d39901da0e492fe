import {
  DRIVER_CLASSES,
  RECEIVER_CLASSES,
  findFunction,
  levelOfState,
  lossOf,
  portOnBus,
  sideRef,
  type Edit,
  type Endpoint,
  type InterfaceModule,
  type LossBehaviour,
  type Pairing,
  type Route,
  type Step,
  type Supply,
  type Transmit,
} from '../../model/index.ts';
import { analyseRoute, domainOfEndpoint, type NamedState, type ValueDomain } from '../../translate/index.ts';
import { conversionBetween } from '../../units/index.ts';
import { mapStates } from './state-map.ts';

/** A complete draft of a route, or why there is none. */
export interface Draft {
  readonly route: Route | null;
  /** What is left for a person to decide or to add. */
  readonly open: readonly string[];
  /** Edits that put it into the map: the route, and the transmit of its message when there is none. */
  readonly edits: readonly Edit[];
}

const none = (reason: string): Draft => ({ route: null, open: [reason], edits: [] });

/** Drafts the route which meets a need from an offer. Interlocks become hard wires or nothing. */
export function draftRoute(pairing: Pairing, need: Supply, offer: Supply): Draft {
  const target = pairing.find(need.ref);
  const source = pairing.find(offer.ref);
  if (!target || !source) return none('the need or the offer is no longer there');
  const entry = findFunction(need.function ?? offer.function ?? undefined);
  const raised = pairing.map.classes?.find((each) => each.function === entry?.id);
  const criticality = raised?.criticality ?? entry?.criticality;
  const carrierRule = raised?.carrierRule ?? entry?.carrierRule;
  const wired = source.kind === 'wire' && target.kind === 'wire';
  const hard = criticality === 'interlock' || carrierRule === 'hard-wired';
  if (hard && !wired) {
    return none(
      `${entry!.title} is ${criticality === 'interlock' ? 'an interlock' : 'to be hard-wired'}: it is proposed as a hard wire or not at all, and this offer is no wire on both ends`,
    );
  }
  const base: Ends['base'] = {
    id: freeId(pairing, need),
    ...(entry ? { function: entry.id } : {}),
    from: [offer.ref],
    to: need.ref,
  };
  const when = narrower(pairing, source, target);
  if (wired && (hard || sameCharacter(source, target))) {
    const route: Route = { ...base, carrier: 'hard-wire', steps: [], ...(when ? { when } : {}) };
    return {
      route,
      open: hard ? ['check the electrical fit of both ends'] : [],
      edits: [{ do: 'insert', in: 'map', path: ['routes'], value: route as never }],
    };
  }
  return throughInterface(pairing, { need, offer, source, target, base, when });
}

interface Ends {
  readonly need: Supply;
  readonly offer: Supply;
  readonly source: Endpoint;
  readonly target: Endpoint;
  readonly base: Pick<Route, 'id' | 'function' | 'from' | 'to'>;
  readonly when: Route['when'];
}

function throughInterface(pairing: Pairing, ends: Ends): Draft {
  const { need, offer, source, target, base } = ends;
  const open: string[] = [];
  const owner = interfaceFor(pairing, source, target);
  if (!owner)
    return none(
      'the map has no interface module that reaches both ends: add one with a port on each bus, or pins for wires',
    );
  const { steps, left } = stepsBetween(domainOfEndpoint(source), domainOfEndpoint(target));
  open.push(...left);
  const entry = findFunction(need.function ?? offer.function ?? undefined);
  const enters = source.kind === 'wire' ? freePin(pairing, owner, 'in', open) : null;
  const leaves = target.kind === 'wire' ? freePin(pairing, owner, 'out', open) : null;
  const loss = lossFor(need.function ?? offer.function, target, open);
  const route: Route = {
    ...base,
    carrier: 'interface',
    by: owner.id,
    ...(enters ? { enters: [enters] } : {}),
    ...(leaves ? { leaves } : {}),
    steps,
    staleAfterMs: staleness(source, entry?.staleAfterMs ?? null),
    recoverAfter: 1,
    ...(loss ? { onLoss: loss } : {}),
    ...(source.kind !== 'wire' && source.message.protection ? { verifySource: true } : {}),
    ...(ends.when ? { when: ends.when } : {}),
  };
  const edits: Edit[] = [{ do: 'insert', in: 'map', path: ['routes'], value: route as never }];
  const transmit = transmitFor(pairing, owner, target);
  if (transmit) edits.push({ do: 'insert', in: 'map', path: ['transmits'], value: transmit as never });
  const { clippedLow, clippedHigh } = analyseRoute(pairing, route);
  if (clippedLow || clippedHigh)
    open.push('a part of the source range does not fit the target: decide whether a limit is right');
  return { route, open, edits };
}

/** A route id that is free: the function's, else the target's name. */
function freeId(pairing: Pairing, need: Supply): string {
  const base = (need.function ?? need.ref.slice(need.ref.indexOf(':') + 1).replace('.', '-')).slice(0, 100);
  let id = base;
  for (let count = 2; pairing.routes.has(id); count += 1) id = `${base}-${count}`;
  return id;
}

/** Both ends switch alike, or both give the same kind of level: a conductor does. */
function sameCharacter(source: Endpoint, target: Endpoint): boolean {
  if (source.kind !== 'wire' || target.kind !== 'wire') return false;
  const [driver, receiver] = [source.wire.electrical.class, target.wire.electrical.class];
  if (driver === receiver) return true;
  const pairs: Readonly<Record<string, readonly string[]>> = {
    'switched-battery': ['input-pull-down', 'coil-to-ground', 'lamp'],
    'switched-ground': ['input-pull-up-12v', 'input-pull-up-5v', 'coil-to-battery', 'lamp'],
    'open-collector': ['input-pull-up-12v', 'input-pull-up-5v'],
    'push-pull-12v': ['input-pull-down'],
    thermistor: ['input-analogue-pull-up'],
    resistive: ['resistive-gauge'],
    'hall-frequency': ['input-frequency'],
    'reluctance-frequency': ['input-reluctance'],
    'pwm-ground': ['input-pull-up-12v', 'input-pull-up-5v'],
  };
  return pairs[driver]?.includes(receiver) ?? false;
}

function busOf(endpoint: Endpoint): string | null {
  return endpoint.kind === 'wire' ? null : sideRef(endpoint.side, endpoint.message.bus);
}

function interfaceFor(pairing: Pairing, source: Endpoint, target: Endpoint): InterfaceModule | null {
  const [from, to] = [busOf(source), busOf(target)];
  const reaches = (owner: InterfaceModule, bus: string | null, role: 'in' | 'out'): boolean =>
    bus === null ? owner.pins.some((pin) => pinRole(pin.electrical.class) === role) : portOnBus(owner, bus) !== null;
  return pairing.map.interfaceModules.find((owner) => reaches(owner, from, 'in') && reaches(owner, to, 'out')) ?? null;
}

function pinRole(electricalClass: string): 'in' | 'out' | null {
  if ((RECEIVER_CLASSES as readonly string[]).includes(electricalClass)) return 'in';
  return (DRIVER_CLASSES as readonly string[]).includes(electricalClass) ? 'out' : null;
}

function freePin(pairing: Pairing, owner: InterfaceModule, role: 'in' | 'out', open: string[]): string | null {
  const used = new Set(
    pairing.map.routes
      .filter(({ by }) => by === owner.id)
      .flatMap(({ enters, leaves }) => [...(enters ?? []), ...(leaves ? [leaves] : [])]),
  );
  const free = owner.pins.find((pin) => pinRole(pin.electrical.class) === role && !used.has(pin.id));
  if (free) {
    open.push(`pin ${owner.id}.${free.id} was taken because it is free: check its electrical fit`);
    return free.id;
  }
  open.push(`${owner.id} has no free ${role === 'in' ? 'input' : 'output'} pin: choose one`);
  return null;
}

/** The steps from one value to the other, and what could not be decided. */
export function stepsBetween(
  source: ValueDomain,
  target: ValueDomain,
): { readonly steps: Step[]; readonly left: readonly string[] } {
  if (source.kind === 'number' && target.kind === 'number') {
    if (source.unitText === target.unitText) return { steps: [], left: [] };
    if (source.unit && target.unit && conversionBetween(source.unit, target.unit).kind !== 'none')
      return { steps: [{ do: 'convert' }], left: [] };
    return {
      steps: [],
      left: [
        `give the scaling from ${source.unitText || 'no unit'} to ${target.unitText || 'no unit'}: it cannot be known from the units`,
      ],
    };
  }
  if (source.kind === 'state' && target.kind === 'state') {
    const { map, unmatched } = mapStates(
      source.states.map(({ label }) => label),
      target.states.map(({ label }) => label),
    );
    const same = unmatched.length === 0 && Object.entries(map).every(([from, to]) => from === to);
    return {
      steps: same ? [] : [{ do: 'states', map: { ...map } }],
      left: unmatched.map((label) => `say what the state "${label}" becomes`),
    };
  }
  if (source.kind === target.kind) return { steps: [], left: [] };
  const step = source.kind === 'number' ? 'bands (number to state)' : 'pick (state to number)';
  return { steps: [], left: [`add a ${step} step: the source is a ${source.kind}, the target a ${target.kind}`] };
}

/** Past the function's tolerance, but never under two and a half periods of the source: one late frame is no loss. */
function staleness(source: Endpoint, toleratedMs: number | null): number {
  const periodMs = source.kind === 'wire' ? (source.wire.periodMs ?? null) : (source.message.cycleMs ?? null);
  if (toleratedMs !== null) return periodMs === null ? toleratedMs : Math.max(toleratedMs, 1);
  return periodMs === null ? 500 : Math.ceil(periodMs * 5);
}

function lossFor(functionId: string | null, target: Endpoint, open: string[]): LossBehaviour | null {
  const domain = domainOfEndpoint(target);
  const safe = lossOf(functionId ?? undefined)?.safe ?? [];
  for (const each of safe) {
    const behaviour = lossInTarget(each, domain, target, functionId);
    if (behaviour) return behaviour;
  }
  const hasNotAvailable =
    (domain.kind === 'number' || domain.kind === 'state') &&
    domain.specials.some(({ means }) => means === 'not-available');
  if (hasNotAvailable) return { do: 'substitute', notAvailable: true };
  if (target.kind === 'wire') return { do: 'open-output' };
  if (domain.kind === 'frame') return { do: 'stop-sending' };
  open.push('say what the reader is given on loss: the catalogue names no value that this target can carry');
  return null;
}

type SafeLoss = NonNullable<ReturnType<typeof lossOf>>['safe'][number];

function lossInTarget(
  safe: SafeLoss,
  domain: ValueDomain,
  target: Endpoint,
  functionId: string | null,
): LossBehaviour | null {
  switch (safe.do) {
    case 'open-output':
      return target.kind === 'wire' ? { do: 'open-output' } : null;
    case 'hold':
      return { do: 'hold', forMs: 2000, then: target.kind === 'wire' ? 'open-output' : 'not-available' };
    case 'not-available':
      return (domain.kind === 'number' || domain.kind === 'state') &&
        domain.specials.some(({ means }) => means === 'not-available')
        ? { do: 'substitute', notAvailable: true }
        : null;
    case 'substitute':
      if (domain.kind === 'number') return 'value' in safe ? { do: 'substitute', value: safe.value } : null;
      if (domain.kind !== 'state' || 'value' in safe) return null;
      return substituteState(safe, domain.states, functionId);
  }
}

function substituteState(
  safe: SafeLoss & { do: 'substitute' },
  states: readonly NamedState[],
  functionId: string | null,
): LossBehaviour | null {
  const fits = ({ label, raw }: NamedState): boolean => {
    if ('state' in safe) return label.toLowerCase() === safe.state.toLowerCase();
    return 'level' in safe && functionId !== null && levelOfState(functionId, label, raw) === safe.level;
  };
  const found = states.filter(fits);
  return found.length === 1 ? { do: 'substitute', state: found[0]!.label } : null;
}

/** The transmit of the target's message, when the map has none yet. */
function transmitFor(pairing: Pairing, owner: InterfaceModule, target: Endpoint): Transmit | null {
  if (target.kind === 'wire') return null;
  const message = sideRef(target.side, target.message.id);
  if (pairing.transmitsOf.has(message)) return null;
  const port = portOnBus(owner, sideRef(target.side, target.message.bus));
  if (!port) return null;
  const { cycleMs, send, protection } = target.message;
  const sends: Transmit['send'] =
    target.kind === 'message' ? 'forwarded' : send === 'on-change' || send === 'cyclic-and-on-change' ? send : 'cyclic';
  return {
    message,
    by: owner.id,
    port: port.id,
    send: sends,
    ...(cycleMs === undefined ? {} : { cycleMs }),
    ...(protection ? { protection } : {}),
    fill: fillOf(target.message),
  };
}

/** Fields no route writes yet say "not available" where they can; a route that writes one later wins over its fill. */
function fillOf(message: Extract<Endpoint, { kind: 'message' }>['message']): Record<string, number | string> {
  return Object.fromEntries(
    message.signals.flatMap((signal) => {
      if (message.protection?.counter === signal.id || message.protection?.checksum === signal.id) return [];
      const raw = signal.notAvailable?.[0] ?? signal.initial;
      return raw === undefined ? [] : [[signal.id, raw]];
    }),
  );
}

/** The condition both ends share, when the platforms give one. */
function narrower(pairing: Pairing, source: Endpoint, target: Endpoint): Route['when'] {
  const conditions = [source, target].flatMap((endpoint) => {
    const own =
      endpoint.kind === 'wire'
        ? endpoint.wire.when
        : endpoint.kind === 'signal'
          ? (endpoint.signal.when ?? endpoint.message.when)
          : endpoint.message.when;
    return own ? [own] : [];
  });
  if (conditions.length === 0) return undefined;
  if (conditions.length === 1 || pairing.options.maskOf(conditions[0]) === pairing.options.maskOf(conditions[1]))
    return conditions[0];
  const merged: Record<string, string[]> = {};
  for (const condition of conditions) {
    for (const [axis, choices] of Object.entries(condition)) {
      merged[axis] = merged[axis] ? merged[axis].filter((choice) => choices.includes(choice)) : [...choices];
    }
  }
  return Object.values(merged).every((choices) => choices.length > 0) ? merged : undefined;
}
