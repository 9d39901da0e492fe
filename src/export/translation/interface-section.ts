import {
  RECEIVER_CLASSES,
  sideRef,
  type Cavity,
  type Electrical,
  type InterfaceModule,
  type Pin,
  type Route,
} from '../../model/index.ts';
import type { Block, Row, Section } from '../document/index.ts';
import { gathered, type SubjectRows } from '../record/index.ts';
import { routeLinks, type Translation } from './translation.ts';

/** The interface modules: timing, supply, ports and pins. */
export function interfaceSection(translation: Translation): Section {
  const modules = translation.pairing.map.interfaceModules;
  return {
    id: 'interface-modules',
    title: 'Interface modules',
    startsPage: true,
    blocks: [
      moduleTable(translation),
      gathered(
        { id: 'ports', title: 'Ports', whenEmpty: 'No interface module has a port.' },
        [{ key: 'module', title: 'Module', kind: 'code', weight: 8 }],
        [
          { key: 'port', title: 'Port', kind: 'code', weight: 6 },
          { key: 'bus', title: 'Bus', kind: 'code', weight: 24 },
          { key: 'high', title: 'CAN high', kind: 'code', weight: 12 },
          { key: 'low', title: 'CAN low', kind: 'code', weight: 12 },
          { key: 'terminator', title: 'Own terminator', kind: 'text', weight: 12 },
          { key: 'stub', title: 'Stub', kind: 'number', weight: 6, unit: 'm' },
          { key: 'sends', title: 'Sends', kind: 'text', weight: 12 },
          { key: 'note', title: 'Note', kind: 'text', weight: 26 },
        ],
        modules.map((by): SubjectRows => ({
          names: [by.id],
          rows: by.ports.map((port) => portRow(translation, by, port)),
        })),
      ),
      gathered(
        {
          id: 'pins',
          title: 'Pins',
          whenEmpty: 'No interface module has a pin.',
          note: 'Thresholds against the ground of the module. The debounce is that of the routes that read the pin.',
        },
        [{ key: 'module', title: 'Module', kind: 'code', weight: 8 }],
        PIN_COLUMNS,
        modules.map((by): SubjectRows => ({
          names: [by.id],
          rows: by.pins.map((pin) => pinRow(translation, by, pin)),
        })),
      ),
      pinFaults(translation),
    ],
  };
}

const cavityText = (at: Cavity | undefined): string | null =>
  at === undefined ? null : `${at.connector}-${at.cavity}`;

function moduleTable({ pairing, open, scope }: Translation): Block {
  return {
    kind: 'table',
    id: 'interface-table',
    title: 'Interface modules',
    columns: [
      { key: 'module', title: 'Module', kind: 'code', weight: 8, role: 'key' },
      { key: 'title', title: 'Title', kind: 'text', weight: 30 },
      { key: 'part', title: 'Part', kind: 'code', weight: 12 },
      { key: 'period', title: 'Task period', kind: 'number', weight: 8, unit: 'ms', group: 'Timing' },
      { key: 'latency', title: 'Latency, most', kind: 'number', weight: 8, unit: 'ms', group: 'Timing' },
      { key: 'start', title: 'Power to first frame', kind: 'number', weight: 9, unit: 'ms', group: 'Timing' },
      { key: 'minV', title: 'Works down to', kind: 'number', weight: 8, unit: 'V', group: 'Supply' },
      { key: 'maxA', title: 'Current, most', kind: 'number', weight: 8, unit: 'A', group: 'Supply' },
      { key: 'sleep', title: 'Asleep', kind: 'number', weight: 8, unit: 'mA', group: 'Supply' },
      { key: 'transients', title: 'Transients', kind: 'text', weight: 12, group: 'Supply' },
      { key: 'reversal', title: 'Reversed battery', kind: 'text', weight: 12, group: 'Supply' },
      { key: 'feed', title: 'Feed', kind: 'code', weight: 12, group: 'Supply' },
      { key: 'feedAt', title: 'at', kind: 'code', weight: 9, group: 'Supply' },
      { key: 'ground', title: 'Ground', kind: 'code', weight: 12, group: 'Supply' },
      { key: 'groundAt', title: 'at', kind: 'code', weight: 9, group: 'Supply' },
      { key: 'builds', title: 'Builds', kind: 'text', weight: 12 },
    ],
    rows: pairing.map.interfaceModules.map((by): Row => {
      const unknown = (what: string): string => open.decide(`${what} of the interface module`, by.id);
      return {
        cells: [
          by.id,
          by.title,
          by.part ?? unknown('Part number'),
          by.periodMs,
          by.latencyMs,
          by.startMs ?? unknown('Time from power to first frame'),
          by.minV ?? unknown('Lowest supply voltage'),
          by.maxA ?? unknown('Greatest current'),
          by.sleepMa ?? unknown('Current asleep'),
          by.transientProtected === undefined
            ? unknown('Protection against supply transients')
            : by.transientProtected
              ? 'protected'
              : 'not protected',
          by.reverseProtected === undefined
            ? unknown('Protection against a reversed battery')
            : by.reverseProtected
              ? 'protected'
              : 'not protected',
          by.feed ?? unknown('Feed'),
          cavityText(by.feedAt) ?? unknown('Cavity of the feed'),
          by.ground ?? unknown('Ground'),
          cavityText(by.groundAt) ?? unknown('Cavity of the ground'),
          scope.words(pairing.options.maskOf(by.when)),
        ],
      };
    }),
    whenEmpty: 'The map has no interface module: nothing is translated.',
  };
}

function portRow(
  { open, sent, received }: Translation,
  by: InterfaceModule,
  port: InterfaceModule['ports'][number],
): Row {
  const ref = `${by.id}.${port.id}`;
  const sends = sent.filter((one) => one.by === by && one.transmit.port === port.id).length;
  const reads = received.filter(
    (one) => one.by === by && sideRef(one.entry.side, one.entry.message.bus) === port.bus,
  ).length;
  return {
    cells: [
      port.id,
      port.bus,
      cavityText(port.at?.high) ?? open.decide('Cavities of the port', ref),
      cavityText(port.at?.low) ?? open.decide('Cavities of the port', ref),
      port.terminationOhm === undefined ? 'none' : `${port.terminationOhm} Ω`,
      port.stubM ?? open.decide('Stub length of the port', ref),
      port.listenOnly === true ? `listens only, ${reads} in` : `${sends} out, ${reads} in`,
      port.note ?? '–',
    ],
  };
}

const PIN_COLUMNS = [
  { key: 'pin', title: 'Pin', kind: 'code', weight: 7 },
  { key: 'title', title: 'What', kind: 'text', weight: 20 },
  { key: 'direction', title: 'Direction', kind: 'text', weight: 7 },
  { key: 'at', title: 'Cavity', kind: 'code', weight: 9 },
  { key: 'class', title: 'Electrical class', kind: 'text', weight: 20 },
  { key: 'levels', title: 'Levels, thresholds, pull, range', kind: 'text', weight: 52 },
  { key: 'active', title: 'Active level', kind: 'text', weight: 7 },
  { key: 'debounce', title: 'Debounce', kind: 'number', weight: 8, unit: 'ms' },
  { key: 'safe', title: 'When the firmware is not running', kind: 'text', weight: 14 },
  { key: 'routes', title: 'Routes', kind: 'code', weight: 20 },
] as const;

/** Whether a pin is an input: its class is that of a receiver. */
export function isInput(pin: Pin): boolean {
  return (RECEIVER_CLASSES as readonly string[]).includes(pin.electrical.class);
}

function pinRow(translation: Translation, by: InterfaceModule, pin: Pin): Row {
  const { open, routes } = translation;
  const using = routes.filter(
    (route) => route.by === by.id && (route.enters?.includes(pin.id) || route.leaves === pin.id),
  );
  const input = isInput(pin);
  const ref = `${by.id}.${pin.id}`;
  const level = electricalText(pin.electrical);
  return {
    cells: [
      pin.id,
      pin.title ?? '–',
      input ? 'in' : 'out',
      `${pin.at.connector}-${pin.at.cavity}`,
      pin.electrical.class,
      level === '' ? open.decide('Levels of the pin', ref) : level,
      pin.electrical.activeLevel ?? (isSwitched(pin.electrical) ? open.decide('Active level of the pin', ref) : '–'),
      input ? debounceOf(using) : '–',
      input ? '–' : (pin.safeLevel ?? open.decide('Level of the output while the firmware is not running', ref)),
      using.length === 0 ? 'none: spare' : routeLinks(using),
    ],
  };
}

function isSwitched({ class: is }: Electrical): boolean {
  return ![
    'input-analogue',
    'input-analogue-pull-up',
    'input-frequency',
    'input-reluctance',
    'resistive-gauge',
    'resistive',
    'thermistor',
    'pwm-battery',
    'pwm-ground',
    'hall-frequency',
    'reluctance-frequency',
    'absolute-voltage',
    'ratiometric-5v',
    'two-wire-current',
    'serial-sensor',
    'resistor-ladder',
  ].includes(is);
}

function debounceOf(routes: readonly Route[]): number | string {
  const times = routes.flatMap(({ steps }) =>
    (steps ?? []).flatMap((step) => (step.do === 'debounce' ? [step.forMs] : [])),
  );
  return times.length === 0 ? 'none' : Math.max(...times);
}

/** Every electrical value a document gives, with its unit. */
export function electricalText(electrical: Electrical): string {
  const parts: string[] = [];
  const value = (name: string, number: number | undefined, unit: string): void => {
    if (number !== undefined) parts.push(`${name} ${number} ${unit}`);
  };
  const span = (name: string, range: readonly [number, number] | undefined, unit: string): void => {
    if (range !== undefined) parts.push(`${name} ${range[0]} … ${range[1]} ${unit}`);
  };
  value('low below', electrical.thresholdLowV, 'V');
  value('high above', electrical.thresholdHighV, 'V');
  if (electrical.pullOhm !== undefined)
    parts.push(
      `pulled by ${electrical.pullOhm} Ω to ${electrical.pullToV === undefined ? 'a level not said' : `${electrical.pullToV} V`}`,
    );
  value('open', electrical.openV, 'V');
  value('least', electrical.minV, 'V');
  value('most', electrical.maxV, 'V');
  value('source', electrical.sourceOhm, 'Ω');
  span('range', electrical.ohm, 'Ω');
  span('frequency', electrical.frequencyHz, 'Hz');
  span('duty', electrical.dutyPercent, '%');
  value('drives up to', electrical.maxA, 'A');
  value('load', electrical.loadA, 'A');
  value('inrush', electrical.inrushA, 'A');
  value('leakage', electrical.leakageA, 'A');
  if (electrical.contact !== undefined) parts.push(electrical.contact);
  if (electrical.momentary === true) parts.push('momentary');
  if (electrical.suppressed === true) parts.push('suppressed');
  return parts.join('; ');
}

/** What a firmware author must fix for each pin: which fault is found how. */
function pinFaults({ pairing }: Translation): Block {
  return {
    kind: 'table',
    id: 'pin-faults',
    title: 'Fault detection at the pins, to be fixed by the firmware author',
    columns: [
      { key: 'pin', title: 'Pin', kind: 'code', weight: 10, role: 'key' },
      { key: 'can', title: 'What the circuit can tell', kind: 'text', weight: 50 },
      { key: 'open', title: 'Wire open: found by', kind: 'entry', weight: 22 },
      { key: 'ground', title: 'Short to ground: found by', kind: 'entry', weight: 22 },
      { key: 'battery', title: 'Short to battery: found by', kind: 'entry', weight: 22 },
    ],
    rows: pairing.map.interfaceModules.flatMap((by) =>
      by.pins.map((pin): Row => ({ cells: [`${by.id}.${pin.id}`, canTell(pin), null, null, null] })),
    ),
    note: 'The map states levels, not how a fault is diagnosed. A blank is a line for the firmware author.',
  };
}

function canTell(pin: Pin): string {
  const { class: is } = pin.electrical;
  if (!isInput(pin))
    return 'an output stage with current read-back can tell an open or shorted load; one without cannot';
  switch (is) {
    case 'input-analogue-pull-up':
      return 'open reads as the pull-up level, short to ground as 0 V: both lie outside the range of the sensor';
    case 'input-analogue':
      return 'a value outside the sensor’s own range; an open wire only if the input is pulled';
    case 'input-pull-up-12v':
    case 'input-pull-up-5v':
      return 'open reads as inactive for an active-low contact: not told apart from released';
    case 'input-pull-down':
      return 'open reads as inactive for an active-high contact: not told apart from released';
    case 'input-frequency':
    case 'input-reluctance':
      return 'no pulses: standstill and a broken wire look alike without a second source';
    default:
      return 'depends on the driver of the load';
  }
}
