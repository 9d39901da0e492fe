// Random pairings and logs from a seed, with every kind of field, step, cadence, loss behaviour and protection. Not a test itself.
import { fromSequential } from '../../src/can/index.ts';
import {
  CHECKSUM_ALGORITHMS,
  type InterfaceModule,
  type LossBehaviour,
  type Message,
  type Pairing,
  type Route,
  type Signal,
  type Step,
  type Transmit,
  type Wire,
} from '../../src/model/index.ts';
import { XM, benchPairing, message, signal, wire } from './bench-pairing.ts';

export interface Random {
  /** 0 ≤ n < limit. */
  below(limit: number): number;
  between(lo: number, hi: number): number;
  chance(part: number): boolean;
  pick<T>(list: readonly T[]): T;
}

/** Small fast generator of good enough quality (Tommy Ettinger's mulberry32, public domain). */
export function randomFrom(seed: number): Random {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
  const below = (limit: number): number => Math.floor(next() * limit);
  return {
    below,
    between: (lo, hi) => lo + below(hi - lo + 1),
    chance: (part) => next() < part,
    pick: (list) => list[below(list.length)]!,
  };
}

const STATES = ['s0', 's1', 's2', 's3'];

/** Fields one after another in whole bytes, each in an order of its own. */
class Layout {
  private byte = 0;
  constructor(
    private readonly random: Random,
    private readonly bytes: number,
  ) {}
  take(length: number): Signal['bits'] | null {
    const off = this.random.below(Math.min(4, 8 - ((length - 1) % 8)));
    const bytes = Math.ceil((length + off) / 8);
    if (this.byte + bytes > this.bytes) return null;
    const first = this.byte * 8;
    this.byte += bytes;
    return this.random.chance(0.5)
      ? { start: first + off, length, order: 'little' }
      : { start: fromSequential(first + (bytes * 8 - off - length)), length, order: 'big' };
  }
}

function numberField(random: Random, id: string, layout: Layout): Signal | null {
  const kind = random.below(12);
  if (kind === 0) {
    const bits = layout.take(random.chance(0.5) ? 32 : 64);
    if (bits === null) return null;
    return signal({
      id,
      bits,
      number: bits.length === 32 ? 'float32' : 'float64',
      factor: random.pick([1, 0.5, 2]),
      offset: random.between(-3, 3),
      unit: 'V',
      ...(random.chance(0.6) ? { range: [-100, 100] as [number, number] } : {}),
    });
  }
  const length = kind === 1 ? random.between(33, 64) : random.between(1, 24);
  const bits = layout.take(length);
  if (bits === null) return null;
  const signed = random.chance(0.3) && length > 1;
  const top = signed ? 2 ** (Math.min(length, 50) - 1) - 1 : 2 ** Math.min(length, 50) - 1;
  const specials = random.chance(0.4) && length >= 3 && length <= 24;
  const middle = specials && random.chance(0.2);
  return signal({
    id,
    bits,
    kind: 'number',
    number: signed ? 'signed' : 'unsigned',
    factor: random.pick([1, 0.5, 0.25, 0.1, 0.01, -0.5, 4, '1/3', 0.125]),
    offset: random.pick([0, 0, -40, 12.5, -100, '2/3']),
    unit: 'V',
    ...(specials ? { notAvailable: [middle ? Math.floor(top / 2) : top], error: [top - 1] } : {}),
    ...(random.chance(0.3) ? { initial: random.below(2) } : {}),
  });
}

function stateField(random: Random, id: string, layout: Layout): Signal | null {
  const bits = layout.take(random.between(2, 4));
  if (bits === null) return null;
  const top = 2 ** bits.length - 1;
  return signal({
    id,
    bits,
    kind: 'state',
    states: Object.fromEntries(STATES.slice(0, random.between(2, 4)).map((label, raw) => [String(raw), label])),
    ...(random.chance(0.4) && top > 3 ? { notAvailable: [top], error: [top - 1] } : {}),
  });
}

function anyMessage(random: Random, id: string, frameId: number): Message {
  const fd = random.chance(0.15);
  const length = fd ? random.pick([12, 16, 24]) : random.between(3, 8);
  const layout = new Layout(random, length);
  const signals: Signal[] = [];
  const guarded = random.chance(0.3);
  const multiplexed = !guarded && random.chance(0.25);
  if (multiplexed) signals.push(signal({ id: 'Page', bits: layout.take(8)!, kind: 'number', multiplexer: true }));
  const wide = random.chance(0.2);
  if (guarded) {
    signals.push(signal({ id: 'Count', bits: layout.take(4)!, kind: 'number' }));
    signals.push(signal({ id: 'Check', bits: layout.take(wide && length >= 6 ? 16 : 8)!, kind: 'number' }));
  }
  for (let index = 0; index < 5; index += 1) {
    const made = random.chance(0.65)
      ? numberField(random, `F${index}`, layout)
      : stateField(random, `F${index}`, layout);
    if (made === null) continue;
    signals.push(
      multiplexed && random.chance(0.7)
        ? { ...made, multiplexed: { by: 'Page', on: random.chance(0.7) ? [random.below(3)] : [[1, 2]] } }
        : made,
    );
  }
  const check = signals.find((entry) => entry.id === 'Check');
  const algorithm =
    check?.bits.length === 16
      ? ('crc16-ccitt-false' as const)
      : random.pick(CHECKSUM_ALGORITHMS.filter((name) => !/16|32/.test(name)));
  return message(
    {
      id,
      frameId: `0x${frameId.toString(16).toUpperCase()}`,
      length,
      idFormat: random.chance(0.3) ? 'extended' : 'standard',
      ...(fd ? { frameFormat: 'fd' as const } : {}),
      ...(guarded
        ? {
            protection: {
              counter: 'Count',
              checksum: 'Check',
              algorithm,
              ...(random.chance(0.4)
                ? { counterModulo: random.between(3, 16), ...(random.chance(0.5) ? { counterSkips: [0] } : {}) }
                : {}),
              ...(random.chance(0.4)
                ? { dataId: random.below(65_536), dataIdAt: random.pick(['before', 'after'] as const) }
                : {}),
            },
          }
        : {}),
    },
    signals,
  );
}

function number(random: Random): number {
  return random.between(-80, 80) / random.pick([1, 2, 4, 8]);
}

function memorylessStep(random: Random): Step {
  switch (random.below(5)) {
    case 0:
    case 1:
      return { do: 'linear', factor: random.pick([2, 0.5, -1, 1.8, 0.1, '1/7']), offset: number(random), unit: 'V' };
    case 2: {
      const [a, b] = [number(random), number(random)];
      return { do: 'limit', min: Math.min(a, b), max: Math.max(a, b), unit: 'V' };
    }
    case 3: {
      const xs = [...new Set(Array.from({ length: random.between(2, 5) }, () => random.between(-100, 100)))].sort(
        (a, b) => a - b,
      );
      if (xs.length < 2) xs.push(xs[0]! + 1);
      return {
        do: 'curve',
        from: 'V',
        unit: 'V',
        outside: random.pick(['clamp', 'refuse'] as const),
        points: xs.map((x) => [x, random.between(-100, 100)]),
      };
    }
    default:
      return { do: 'reciprocal', k: random.pick([1, 100, -12.5]), unit: 'V' };
  }
}

function timedStep(random: Random): Step {
  switch (random.below(4)) {
    case 0:
      return { do: 'debounce', forMs: random.between(1, 50) };
    case 1:
      return { do: 'delay', byMs: random.between(1, 60) };
    case 2:
      return { do: 'smooth', timeConstantMs: random.between(5, 300) };
    default:
      return {
        do: 'rate-limit',
        risePerS: random.between(1, 500),
        unit: 'V',
        ...(random.chance(0.6) ? { fallPerS: random.between(1, 500) } : {}),
      };
  }
}

function numberSteps(random: Random, most: number): Step[] {
  return Array.from({ length: random.below(most + 1) }, () =>
    random.chance(0.75) ? memorylessStep(random) : timedStep(random),
  );
}

function statesMap(random: Random): Step {
  return {
    do: 'states',
    map: Object.fromEntries(STATES.map((label) => [label, random.pick(STATES.slice(0, 2))])),
    ...(random.chance(0.5) ? { otherwise: 's0' } : {}),
  };
}

interface Source {
  readonly ref: string;
  readonly kind: 'number' | 'state';
}

function stepsTo(
  random: Random,
  target: 'number' | 'state',
  sources: readonly Source[],
): { from: string[]; steps: Step[] } | null {
  const numbers = sources.filter(({ kind }) => kind === 'number').map(({ ref }) => ref);
  const states = sources.filter(({ kind }) => kind === 'state').map(({ ref }) => ref);
  const several = random.chance(0.35);
  if (target === 'number') {
    if (states.length > 0 && random.chance(0.2)) {
      return {
        from: [random.pick(states)],
        steps: [
          { do: 'pick', map: { s0: 1, s1: -7.5, s2: 30 }, unit: 'V', ...(random.chance(0.5) ? { otherwise: 0 } : {}) },
          ...numberSteps(random, 2),
        ],
      };
    }
    if (numbers.length === 0) return null;
    if (!several) return { from: [random.pick(numbers)], steps: numberSteps(random, 3) };
    const before = random.chance(0.5) ? [{ ...memorylessStep(random), of: 0 } as Step] : [];
    const combine = random.pick<Step>([
      { do: 'highest' },
      { do: 'lowest' },
      { do: 'sum' },
      { do: 'difference' },
      { do: 'first-valid' },
    ]);
    if (states.length > 0 && random.chance(0.3)) {
      return {
        from: [random.pick(states), random.pick(numbers), random.pick(numbers)],
        steps: [
          {
            do: 'choose-by',
            selector: 0,
            cases: { s0: { source: 1 }, s1: { value: 5.5 } },
            ...(random.chance(0.5) ? { otherwise: { source: 2 } } : {}),
          },
          ...numberSteps(random, 1),
        ],
      };
    }
    return {
      from: Array.from({ length: random.between(2, 3) }, () => random.pick(numbers)),
      steps: [...before, combine, ...numberSteps(random, 1)],
    };
  }
  if (numbers.length > 0 && (states.length === 0 || random.chance(0.4))) {
    const at = random.between(-20, 60);
    return {
      from: [random.pick(numbers)],
      steps: [
        ...numberSteps(random, 1),
        {
          do: 'bands',
          at: [at, at + 20],
          states: ['s0', 's1', 's0'],
          unit: 'V',
          ...(random.chance(0.5) ? { hysteresis: random.between(0, 10) } : {}),
          ...(random.chance(0.4) ? { dwellMs: random.between(0, 40) } : {}),
        },
      ],
    };
  }
  if (states.length === 0) return null;
  const tail = random.chance(0.3)
    ? [timedStep(random)].filter(({ do: what }) => what === 'debounce' || what === 'delay')
    : [];
  if (!several) return { from: [random.pick(states)], steps: [statesMap(random), ...tail] };
  const combine = random.pick<Step>([
    { do: 'all-of', when: ['s1'], yields: 's1', otherwise: 's0' },
    { do: 'any-of', when: ['s1', 's0'], yields: 's1', otherwise: 's0' },
    { do: 'first-valid' },
  ]);
  return { from: [random.pick(states), random.pick(states)], steps: [combine, statesMap(random), ...tail] };
}

function anyLoss(random: Random, target: 'number' | 'state'): LossBehaviour {
  switch (random.below(5)) {
    case 0:
      return { do: 'hold' };
    case 1:
      return {
        do: 'hold',
        forMs: random.between(5, 100),
        then: random.pick(['not-available', 'stop-sending', 'open-output'] as const),
      };
    case 2:
      return { do: 'stop-sending' };
    case 3:
      return { do: 'substitute', notAvailable: true };
    default:
      return target === 'number'
        ? { do: 'substitute', value: number(random) }
        : { do: 'substitute', state: random.pick(STATES.slice(0, 2)) };
  }
}

function anyWire(random: Random, id: string): Wire {
  switch (random.below(3)) {
    case 0:
      return wire({ id, meaning: { active: 's1', inactive: 's0' } });
    case 1:
      return wire({
        id,
        electrical: { class: 'absolute-voltage' },
        meaning: {
          scale: { of: 'V', factor: random.pick([10, 25, -4]), offset: random.pick([0, -12.5]), range: [-50, 120] },
          unit: 'V',
        },
      });
    default:
      return wire({
        id,
        electrical: { class: 'resistive' },
        meaning: {
          curve: {
            of: 'Ohm',
            points: [
              [30, 100],
              [90, 40],
              [250, -20],
            ],
          },
          unit: 'V',
        },
      });
  }
}

/** A pairing of one interface module, from a seed. */
export function randomPairing(seed: number): Pairing {
  const random = randomFrom(seed);
  const donor = Array.from({ length: random.between(2, 4) }, (_, index) =>
    anyMessage(random, `D${index}`, 0x100 + index),
  );
  const host = Array.from({ length: random.between(1, 3) }, (_, index) =>
    anyMessage(random, `H${index}`, 0x300 + index),
  );
  const wiresIn = Array.from({ length: random.below(4) }, (_, index) => anyWire(random, `in${index}`));
  const wiresOut = Array.from({ length: random.below(3) }, (_, index) => anyWire(random, `out${index}`));
  const fieldSources = donor.flatMap(({ id, signals }) =>
    signals
      .filter(({ id: name }) => name.startsWith('F'))
      .map((entry): Source => ({ ref: `donor:${id}.${entry.id}`, kind: entry.kind === 'state' ? 'state' : 'number' })),
  );
  const wireSources = wiresIn.map(({ id, meaning }): Source => ({
    ref: `donor:${id}`,
    kind: meaning && 'active' in meaning ? 'state' : 'number',
  }));
  const sources = [...fieldSources, ...wireSources];
  const targets = [
    ...host.flatMap(({ id, signals }) =>
      signals
        .filter(({ id: name }) => name.startsWith('F'))
        .map((entry): Source => ({ ref: `host:${id}.${entry.id}`, kind: entry.kind === 'state' ? 'state' : 'number' })),
    ),
    ...wiresOut.map(({ id, meaning }): Source => ({
      ref: `host:${id}`,
      kind: meaning && 'active' in meaning ? 'state' : 'number',
    })),
  ];
  const routes: Route[] = [];
  for (const target of targets) {
    const count = random.chance(0.1) ? 2 : 1;
    for (let copy = 0; copy < count; copy += 1) {
      const made = sources.length === 0 ? null : stepsTo(random, target.kind, sources);
      if (made === null || random.chance(0.1)) continue;
      routes.push({
        id: `r${routes.length}`,
        ...made,
        to: target.ref,
        carrier: 'interface',
        by: 'xm',
        ...(random.chance(0.8) ? { staleAfterMs: random.between(20, 150) } : {}),
        ...(random.chance(0.4) ? { recoverAfter: random.between(1, 4) } : {}),
        ...(random.chance(0.85) ? { onLoss: anyLoss(random, target.kind) } : {}),
        ...(random.chance(0.4)
          ? { atStart: random.pick(['not-available', 'loss-behaviour', 'stop-sending'] as const) }
          : {}),
        ...(random.chance(0.5) ? { verifySource: true } : {}),
        ...(copy === 1 && routes.at(-1)?.to === target.ref ? { backupOf: routes.at(-1)!.id } : {}),
      });
    }
  }
  const transmits = host.map(({ id, signals }): Transmit => {
    const send = random.pick(['cyclic', 'cyclic', 'on-change', 'cyclic-and-on-change', 'forwarded'] as const);
    const filled = signals.find(
      ({ id: name }) => name.startsWith('F') && !routes.some(({ to }) => to === `host:${id}.${name}`),
    );
    return {
      message: `host:${id}`,
      by: 'xm',
      port: 'A',
      send,
      cycleMs: random.pick([10, 20, 25, 7.5, 50]),
      ...(random.chance(0.4) ? { phaseMs: random.between(0, 15) } : {}),
      ...(random.chance(0.4) ? { minGapMs: random.between(0, 40) } : {}),
      ...(random.chance(0.3) ? { unusedBits: '1' as const } : {}),
      ...(filled && random.chance(0.5) ? { fill: { [filled.id]: 1 } } : {}),
    };
  });
  const copied = random.chance(0.3) ? random.pick(donor) : null;
  if (copied !== null) {
    host.push({ ...message({ id: 'Copy', frameId: '0x3F0', length: copied.length }, []) });
    routes.push({ id: 'copy', from: [`donor:${copied.id}`], to: 'host:Copy', carrier: 'interface', by: 'xm' });
    transmits.push({ message: 'host:Copy', by: 'xm', port: 'A' });
  }
  const module: InterfaceModule = {
    ...XM,
    periodMs: random.pick([5, 10, 2.5, 20]),
    latencyMs: random.pick([0, 1, 2.5]),
  };
  return benchPairing({
    donor: { messages: donor, wires: wiresIn },
    host: { messages: host, wires: wiresOut },
    routes,
    transmits,
    interfaceModules: [module],
  });
}
