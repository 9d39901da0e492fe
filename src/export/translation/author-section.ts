import type { Block, Row, Section } from '../document/index.ts';
import { ref } from '../document/index.ts';
import { joined } from '../record/index.ts';
import { receivedAnchor, routeAnchor, routeLinks, type Translation } from './translation.ts';

/** Numbers that a workshop may have to change, and the faults that need a code: lines for the firmware author. */
export function authorSection(translation: Translation): Section {
  return {
    id: 'for-the-author',
    title: 'For the firmware author to fix',
    startsPage: true,
    intro:
      'The map states what is translated; it does not state how the program is built. These points must be fixed in the firmware’s own documents before it is released.',
    blocks: [generalTable(translation), parameterTable(translation), faultTable(translation)],
  };
}

function generalTable({ pairing, open, issue }: Translation): Block {
  const modules = pairing.map.interfaceModules;
  const each = (say: (module: (typeof modules)[number]) => string): string =>
    joined(
      modules.map((module) => `${module.id}: ${say(module)}`),
      'no interface module',
    );
  const fix = (what: string): string => {
    open.decide(what, 'firmware author');
    return 'not stated: for the firmware author to fix';
  };
  const rows: readonly (readonly [string, string])[] = [
    [
      'Task timing and worst latency',
      each(({ periodMs, latencyMs }) => `task every ${periodMs} ms, at most ${latencyMs} ms from input to output`),
    ],
    [
      'Memory of the last good value',
      'Kept while a source is not stale and where a route holds; never across a reset.',
    ],
    [
      'Start',
      each(({ startMs }) =>
        startMs === undefined
          ? 'time from power to first frame not stated'
          : `first frames within ${startMs} ms of power`,
      ),
    ],
    ['Watchdog and reset', fix('Watchdog and reset behaviour')],
    [
      'Outputs while the firmware is not running',
      each(({ pins }) =>
        joined(
          pins.flatMap(({ id, safeLevel }) => (safeLevel === undefined ? [] : [`${id} ${safeLevel}`])),
          'none stated',
        ),
      ),
    ],
    [
      'During cranking',
      each(({ minV }) =>
        minV === undefined
          ? 'lowest voltage not stated'
          : `works down to ${minV} V; below it outputs take the level above and nothing is sent`,
      ),
    ],
    ['After key off', fix('What is sent, and for how long, after key off')],
    ['Wake sources and sleep delay', fix('Wake sources and sleep delay')],
    ['Current asleep', each(({ sleepMa }) => (sleepMa === undefined ? 'not stated' : `${sleepMa} mA`))],
    [
      'Counter or checksum of a source wrong',
      'The frame does not count as a sample; the source is lost when none has counted for the stale limit of the route. A limit by count is not stated.',
    ],
    ['Plausibility of motion and interlock values', fix('Limits of plausibility between companion functions')],
    ['Bus-off and error-passive', fix('Behaviour at bus-off')],
    [
      'Configuration identity readable on the bus',
      `Digest of the map: ${issue.digest}. ${fix('Where the digest of the map can be read on the bus')}`,
    ],
    [
      'Software version, rollback, lock while the vehicle moves',
      fix('Software version, rollback, update lock while the vehicle moves'),
    ],
    ['Log of faults', `Every substitution is logged; none is silent. ${fix('Where and how faults are logged')}`],
  ];
  return {
    kind: 'table',
    id: 'general',
    title: 'What the map states about the program',
    columns: [
      { key: 'point', title: 'Point', kind: 'text', weight: 34, role: 'key' },
      { key: 'stated', title: 'Stated', kind: 'text', weight: 70 },
      { key: 'fixed', title: 'Fixed as', kind: 'entry', weight: 34 },
    ],
    rows: rows.map((cells) => ({ cells: [...cells, null] })),
  };
}

function parameterTable({ routes }: Translation): Block {
  const rows = routes.flatMap((route) =>
    (route.steps ?? []).flatMap((step, at): Row[] => {
      const said = ((): readonly (readonly [string, string, string])[] => {
        switch (step.do) {
          case 'pulses':
            return [['pulses per unit', String(step.pulsesPerUnit), `1/${step.per}`]];
          case 'reciprocal':
            return [['k', String(step.k), step.unit]];
          case 'linear':
            return [
              ['factor', String(step.factor), step.unit],
              ['offset', String(step.offset), step.unit],
            ];
          case 'bands':
            return [
              ['thresholds', step.at.join(', '), step.unit],
              ...(step.hysteresis === undefined ? [] : [['hysteresis', String(step.hysteresis), step.unit] as const]),
              ...(step.dwellMs === undefined ? [] : [['dwell', String(step.dwellMs), 'ms'] as const]),
            ];
          case 'limit':
            return [['limits', `${step.min ?? '−∞'} … ${step.max ?? '∞'}`, step.unit]];
          case 'rate-limit':
            return [['rise, fall a second', `${step.risePerS ?? 'any'}, ${step.fallPerS ?? 'any'}`, step.unit]];
          case 'smooth':
            return [['time constant', String(step.timeConstantMs), 'ms']];
          case 'debounce':
            return [['debounce', String(step.forMs), 'ms']];
          case 'delay':
            return [['delay', String(step.byMs), 'ms']];
          default:
            return [];
        }
      })();
      return said.map(([name, value, unit]): Row => ({
        cells: [[ref(route.id, routeAnchor(route.id))], at + 1, step.do, name, value, unit, null, null],
      }));
    }),
  );
  return {
    kind: 'table',
    id: 'parameters',
    title: 'Parameters in the steps',
    columns: [
      { key: 'route', title: 'Route', kind: 'code', weight: 24, role: 'key' },
      { key: 'step', title: 'Step', kind: 'number', weight: 5, role: 'key' },
      { key: 'do', title: 'Kind', kind: 'text', weight: 11 },
      { key: 'name', title: 'Parameter', kind: 'text', weight: 18 },
      { key: 'value', title: 'Default', kind: 'number', weight: 22 },
      { key: 'unit', title: 'Unit', kind: 'code', weight: 12 },
      { key: 'stored', title: 'Stored at', kind: 'entry', weight: 20 },
      { key: 'who', title: 'Who may change it', kind: 'entry', weight: 20 },
    ],
    rows,
    whenEmpty: 'No step has a number that could be set.',
    note: 'Tyre circumference, axle ratio and pulses per turn enter through these steps.',
  };
}

function faultTable(translation: Translation): Block {
  const { received, pairing, pages } = translation;
  const messages = received.flatMap((one): Row[] => {
    const { entry, routes } = one;
    const limits = routes.flatMap(({ staleAfterMs }) => (staleAfterMs === undefined ? [] : [staleAfterMs]));
    const limit = limits.length === 0 ? 'no stale limit stated' : `not received for ${Math.min(...limits)} ms`;
    const link = pages ? ([ref(entry.ref, receivedAnchor(one))] as const) : entry.ref;
    const verified = routes.filter(({ verifySource }) => verifySource === true);
    return [
      { cells: [link, 'message lost', limit, routeLinks(routes), null, null, null, null] },
      ...(entry.message.protection === undefined || verified.length === 0
        ? []
        : [
            {
              cells: [
                link,
                'checksum or counter wrong',
                'verification of the source',
                routeLinks(verified),
                null,
                null,
                null,
                null,
              ],
            },
          ]),
    ];
  });
  const ports = pairing.map.interfaceModules.flatMap((by) =>
    by.ports.map((port): Row => ({
      cells: [`${by.id}.${port.id}`, 'bus off', 'controller', `all on ${port.bus}`, null, null, null, null],
    })),
  );
  return {
    kind: 'table',
    id: 'fault-codes',
    title: 'Faults that need a code',
    columns: [
      { key: 'of', title: 'Of', kind: 'code', weight: 28, role: 'key' },
      { key: 'fault', title: 'Fault', kind: 'text', weight: 16, role: 'key' },
      { key: 'found', title: 'Found by', kind: 'text', weight: 20 },
      { key: 'routes', title: 'Routes concerned', kind: 'code', weight: 40 },
      { key: 'code', title: 'Code', kind: 'entry', weight: 10 },
      { key: 'lamp', title: 'Lamp', kind: 'entry', weight: 8 },
      { key: 'stored', title: 'Stored', kind: 'entry', weight: 10 },
      { key: 'cleared', title: 'Cleared by', kind: 'entry', weight: 12 },
    ],
    rows: [...messages, ...ports],
  };
}
