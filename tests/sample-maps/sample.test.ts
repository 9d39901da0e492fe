import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import {
  DRIVER_CLASSES,
  RECEIVER_CLASSES,
  SUPPLY_CLASSES,
  FUNCTIONS,
  Step,
  deriveHarness,
  deriveNeedsAndOffers,
  pair,
  readMap,
  readPlatform,
  writeMap,
  writePlatform,
  type CrossloomMap,
  type Platform,
  type Signal,
} from '../../src/model/index.ts';
import { check } from '../../src/checks/index.ts';
import { contentOfDbc } from '../../src/can/index.ts';
import { readDbc } from '../../src/can/formats/dbc/index.ts';
import { parseExact, toNumber } from '../../src/number/index.ts';

const textOf = (name: string): string => readFileSync(new URL(`../../sample-maps/${name}`, import.meta.url), 'utf8');

function platformOf(name: string): Platform {
  const read = readPlatform(textOf(name));
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  return read.document;
}
function mapOf(name: string): CrossloomMap {
  const read = readMap(textOf(name));
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  return read.document;
}

const host = platformOf('halden-ft6.platform.json');
const donor = platformOf('orrin-32.platform.json');
const map = mapOf('ft6-orrin32.map.json');
const family = mapOf('family.map.json');
const signalsOf = (platform: Platform): readonly Signal[] => platform.messages.flatMap(({ signals }) => signals);
const exact = (value: string | number): number => toNumber(parseExact(value)!);

describe('the documents of the sample', () => {
  test.each(['halden-ft6.platform.json', 'orrin-32.platform.json'])('%s is written as it is read', (name) => {
    expect(writePlatform(platformOf(name))).toBe(textOf(name));
  });
  test.each(['ft6-orrin32.map.json', 'family.map.json'])('%s is written as it is read', (name) => {
    expect(writeMap(mapOf(name))).toBe(textOf(name));
  });
});

// The sizes asked of the sample: a chassis of at least 12 modules, 45 messages, 350 signals, 40 wires, 15 connectors on two
// buses; a powertrain of like size with a bus of 29-bit identifiers; a map of 80 routes and more.
describe('its size', () => {
  test.each([
    ['chassis', host, 2],
    ['powertrain', donor, 1],
  ] as const)('the %s platform', (_, platform, buses) => {
    expect(platform.buses.length).toBeGreaterThanOrEqual(buses);
    expect(platform.modules.filter(({ kind }) => kind === 'controller').length).toBeGreaterThanOrEqual(12);
    expect(platform.messages.length).toBeGreaterThanOrEqual(45);
    expect(signalsOf(platform).length).toBeGreaterThanOrEqual(350);
    expect(platform.wires.length).toBeGreaterThanOrEqual(40);
    expect(platform.connectors.filter(({ cavities }) => cavities.length > 0).length).toBeGreaterThanOrEqual(15);
  });
  test('the buses: 500 and 125 kbit/s with 11-bit identifiers, one with 29-bit identifiers', () => {
    expect(host.buses.map(({ bitRate }) => bitRate)).toEqual([500000, 125000]);
    expect(donor.messages.every(({ idFormat }) => idFormat === 'extended')).toBe(true);
    const orders = (platform: Platform, bus: string) =>
      new Set(
        platform.messages
          .filter((message) => message.bus === bus)
          .flatMap(({ signals }) => signals.map(({ bits }) => bits.order)),
      );
    expect([...orders(host, 'chassis-can')]).toEqual(['big']);
    expect([...orders(host, 'body-can')]).toEqual(['little']);
    expect([...orders(donor, 'powertrain-can')]).toEqual(['little']);
  });
  test('the map: 80 routes, two options, an interface module with 3 ports and 16 pins, a harness', () => {
    expect(map.routes.length).toBeGreaterThanOrEqual(80);
    expect(map.options!.map(({ id }) => id)).toEqual(['drivetrain', 'year']);
    expect(map.interfaceModules).toHaveLength(1);
    expect(map.interfaceModules[0]!.ports).toHaveLength(3);
    expect(map.interfaceModules[0]!.pins).toHaveLength(16);
    expect(map.leftOut!.length).toBeGreaterThan(0);
    expect(new Set(map.harness!.parts!.map(({ kind }) => kind))).toEqual(new Set(['relay', 'diode', 'terminator']));
    expect(map.harness!.nodes.every(({ x, y }) => x !== undefined && y !== undefined)).toBe(true);
  });
});

describe('every kind that the model has is used', () => {
  test('carriers and loss behaviours', () => {
    expect(new Set(map.routes.map(({ carrier }) => carrier))).toEqual(new Set(['hard-wire', 'bus', 'interface']));
    expect(new Set(map.routes.flatMap(({ onLoss }) => onLoss?.do ?? []))).toEqual(
      new Set(['hold', 'substitute', 'stop-sending', 'open-output']),
    );
  });
  test('steps', () => {
    const known = Step.options.map((option) => option.shape.do.value);
    const used = new Set(map.routes.flatMap(({ steps }) => steps ?? []).map((step) => step.do));
    expect(known.filter((kind) => !used.has(kind))).toEqual([]);
  });
  test('electrical classes, but for those of the networks themselves', () => {
    const used = new Set([
      ...[...host.wires, ...donor.wires].map(({ electrical }) => electrical.class),
      ...map.interfaceModules[0]!.pins.map(({ electrical }) => electrical.class),
    ]);
    const unused = [...DRIVER_CLASSES, ...RECEIVER_CLASSES, ...SUPPLY_CLASSES].filter((kind) => !used.has(kind));
    expect(unused).toEqual([]);
  });
  test('numbers, states, text, float, sign, 64 bits, both ways of multiplexing', () => {
    const signals = [...signalsOf(host), ...signalsOf(donor)];
    expect(signals.some(({ number }) => number === 'float32')).toBe(true);
    expect(signals.some(({ number }) => number === 'signed')).toBe(true);
    expect(signals.some(({ bits }) => bits.length === 64)).toBe(true);
    expect(signals.some(({ kind }) => kind === 'text')).toBe(true);
    expect(signals.some(({ multiplexed }) => multiplexed?.by === 'Page')).toBe(true);
    expect(signals.some(({ id, multiplexed }) => id === 'Cylinder' && multiplexed?.by === 'Page')).toBe(true);
    expect(signals.some(({ multiplexed }) => multiplexed?.on.some(Array.isArray))).toBe(true);
    const written = new Set(map.routes.map(({ to }) => to));
    for (const ref of [
      'host:FuelStatus.TripFuel', // from a float
      'host:EngineRevolutions.TotalRevolutions', // 64 bits
      'host:ServicePages.EngineHours', // a page of a multiplexed message
      'donor:VehicleIdent.VinB', // text on a page
    ]) {
      expect(written.has(ref), ref).toBe(true);
    }
  });
});

describe('what it says', () => {
  const pairing = pair(map, host, donor);
  test('every need is met by a route or left out with a reason, in every build', () => {
    const { needs } = deriveNeedsAndOffers(pairing);
    expect(needs.size).toBeGreaterThan(150);
    for (const need of needs.values()) {
      const routed = (pairing.routesTo.get(need.ref) ?? []).reduce(
        (mask, route) => mask | pairing.options.maskOf(route.when),
        0n,
      );
      const left = (map.leftOut ?? []).filter(({ signal }) => signal === need.ref);
      expect(left.every(({ reason }) => reason.length > 20)).toBe(true);
      const open = need.mask & ~routed & ~(left.length > 0 ? pairing.options.all : 0n);
      expect(open, need.ref).toBe(0n);
    }
  });
  test('every function that a regulation requires is routed, or left out with a reason', () => {
    const served = new Set([
      ...map.routes.flatMap(({ function: id }) => id ?? []),
      ...(map.leftOut ?? []).flatMap(({ function: id }) => id ?? []),
    ]);
    const required = [...FUNCTIONS.values()].filter(({ law }) => law === 'required');
    expect(required.length).toBeGreaterThan(15);
    expect(required.filter(({ id }) => !served.has(id)).map(({ id }) => id)).toEqual([]);
  });
  test('every signal, wire and connector names the document it was taken from, and the document is listed', () => {
    for (const platform of [host, donor]) {
      const listed = new Set(platform.documents!.map(({ id }) => id));
      const facts = [
        ...platform.buses,
        ...platform.modules,
        ...platform.messages,
        ...platform.wires,
        ...platform.connectors,
        ...platform.feeds,
        ...platform.grounds,
      ];
      for (const { id, documents } of facts) {
        expect(documents ?? [], id).not.toEqual([]);
        expect(documents!.every((document) => listed.has(document)), id).toBe(true);
      }
    }
  });
  test('the harness is complete: every circuit has its two places, a number, a size and a colour', () => {
    const { circuits, problems } = deriveHarness(pairing);
    expect(problems).toEqual([]);
    expect(circuits.length).toBeGreaterThan(70);
    for (const circuit of circuits) {
      expect(circuit.missing, circuit.key).toEqual([]);
      expect(circuit.id).toMatch(/^\d+$/);
      expect(circuit.conductor.size, circuit.key).not.toBeNull();
      expect(circuit.conductor.colour, circuit.key).not.toBeNull();
    }
  });
  // Common practice for a fixed-displacement compressor: outlet air held near 40 °F, the clutch cycling inside 40 to 45 °F.
  test('the compressor comes in at 45 °F and goes out below 40 °F', () => {
    const bands = map.routes.find(({ id }) => id === 'ac-request')!.steps!.find((step) => step.do === 'bands');
    if (bands?.do !== 'bands') throw new Error('ac-request has no bands');
    expect(bands.unit).toBe('[degF]');
    expect(exact(bands.at[0]!)).toBe(45);
    expect(exact(bands.at[0]!) - exact(bands.hysteresis!)).toBe(40);
  });
  test('in D the letter is shown, in M the gear', () => {
    const step = map.routes.find(({ id }) => id === 'range-display')!.steps![0]!;
    if (step.do !== 'choose-by') throw new Error('range-display does not choose');
    expect(step.cases['D']).toEqual({ state: 'D' });
    expect(step.cases['M']).toEqual({ source: 1 });
  });
  // 1 % of the reference torque of 600 N·m is 6 N·m, and back.
  test('torque in per cent and in newton metres agree both ways', () => {
    const factors = map.routes.flatMap(({ steps }) =>
      (steps ?? []).flatMap((step) => (step.do === 'linear' ? [exact(step.factor)] : [])),
    );
    expect(factors.filter((factor) => factor > 1)).toEqual([6, 6, 6, 6]);
    for (const factor of factors.filter((one) => one < 1)) expect(factor * 6).toBeCloseTo(1, 12);
  });
});

describe('the good maps are clean but for their waivers', () => {
  test.each(['ft6-orrin32.map.json', 'family.map.json'])('%s', (name) => {
    const { findings, counts } = check(pair(mapOf(name), host, donor));
    expect(findings.filter(({ waived }) => waived === null).map(({ rule, subject }) => `${rule} ${subject}`)).toEqual([]);
    expect(counts).toEqual({ stop: 0, fix: 0, look: 0, waived: 2 });
    const waived = findings.flatMap(({ waived: by }) => by ?? []);
    expect(waived.every(({ by, reason }) => by.length > 3 && reason.length > 40)).toBe(true);
  });
});

describe('review-me', () => {
  const text = textOf('faulty/review-me.md');
  const planted = [...text.matchAll(/^\| \d+ \| ([a-z-]+) \| `([^`]+)` \| `([^`]+)` \|/gm)].map(
    ([, mistake, subject, rule]) => ({ mistake: mistake!, subject: subject!, rule: rule! }),
  );
  const { findings } = check(pair(mapOf('faulty/review-me.map.json'), host, donor));
  test('fifteen mistakes of fifteen kinds are planted, over at least eight groups of rules', () => {
    expect(planted).toHaveLength(15);
    expect(new Set(planted.map(({ mistake }) => mistake)).size).toBe(15);
    expect(new Set(planted.map(({ rule }) => rule.split('/')[0])).size).toBeGreaterThanOrEqual(8);
  });
  test.each(planted)('$mistake is found by $rule', ({ subject, rule }) => {
    const found = findings.filter((finding) => finding.rule === rule && finding.subject === subject);
    expect(found.length).toBeGreaterThan(0);
    expect(found.every(({ waived }) => waived === null)).toBe(true);
  });
  test('none of them is found in the good map', () => {
    const good = check(pair(map, host, donor)).findings.filter(({ waived }) => waived === null);
    for (const { rule, subject } of planted) {
      expect(good.some((finding) => finding.rule === rule && finding.subject === subject), rule).toBe(false);
    }
  });
});

describe('the family', () => {
  test('six axes make 64 builds, and every need is met in each', () => {
    const pairing = pair(family, host, donor);
    expect(family.options).toHaveLength(6);
    expect(pairing.options.combinations).toHaveLength(64);
    const { needs } = deriveNeedsAndOffers(pairing);
    const left = new Set((family.leftOut ?? []).flatMap(({ signal }) => signal ?? []));
    for (const need of needs.values()) {
      const masks = (pairing.routesTo.get(need.ref) ?? []).map((route) => pairing.options.maskOf(route.when));
      const routed = masks.reduce((all, mask) => all | mask, 0n);
      expect(left.has(need.ref) || (need.mask & ~routed) === 0n, need.ref).toBe(true);
      masks.forEach((mask, at) => masks.slice(at + 1).forEach((other) => expect(mask & other, need.ref).toBe(0n)));
    }
  });
});

describe('the DBC files', () => {
  test.each([
    ['chassis-can', host],
    ['body-can', host],
    ['powertrain-can', donor],
  ] as const)('%s says what the platform says', (busId, platform) => {
    const read = readDbc(textOf(`dbc/${busId}.dbc`));
    expect(read.faults).toEqual([]);
    const content = contentOfDbc(read.database, busId);
    const own = platform.messages.filter(({ bus }) => bus === busId);
    expect(content.messages.map(({ id }) => id).sort()).toEqual(own.map(({ id }) => id).sort());
    for (const message of own) {
      const back = content.messages.find(({ id }) => id === message.id)!;
      expect([back.frameId, back.length, back.sender, back.cycleMs]).toEqual([
        message.frameId,
        message.length,
        message.sender,
        message.cycleMs,
      ]);
      for (const signal of message.signals) {
        const found = back.signals.find(({ id }) => id === signal.id)!;
        expect([found.bits, found.number, found.unit], `${message.id}.${signal.id}`).toEqual([
          signal.bits,
          signal.number,
          signal.unit,
        ]);
        expect([exact(found.factor), exact(found.offset)]).toEqual([exact(signal.factor), exact(signal.offset)]);
      }
    }
  });
});
