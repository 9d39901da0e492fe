import type { Block, Column, Row } from '../document/index.ts';
import { ref } from '../document/index.ts';
import { carrierRuleWords } from '../record/index.ts';
import { ageBudget, type TimedBus } from './bus-timing.ts';
import { lossText, startWords } from './route-words.ts';
import { routeAnchor, routeLinks, type Translation } from './translation.ts';

/** Every route of the builds covered, a row each. */
export function overviewTable({ routes, context, scope, pages }: Translation): Block {
  return {
    kind: 'table',
    id: 'routes',
    title: 'Routes',
    columns: [
      { key: 'route', title: 'Route', kind: 'code', weight: 24, role: 'key' },
      { key: 'function', title: 'Function', kind: 'code', weight: 30 },
      { key: 'criticality', title: 'Criticality', kind: 'text', weight: 16 },
      { key: 'role', title: 'Role', kind: 'text', weight: 12 },
      { key: 'carrier', title: 'Carrier', kind: 'text', weight: 10 },
      { key: 'by', title: 'Through', kind: 'code', weight: 8 },
      { key: 'from', title: 'From', kind: 'code', weight: 34 },
      { key: 'to', title: 'To', kind: 'code', weight: 34 },
      ...(scope.several ? [{ key: 'builds', title: 'Builds', kind: 'text', weight: 14 } as const] : []),
      { key: 'evidence', title: 'Evidence', kind: 'text', weight: 9 },
    ],
    rows: routes.map((route): Row => {
      const entry = context.functionOf(route);
      return {
        ...(pages ? {} : { id: routeAnchor(route.id) }),
        cells: [
          pages ? [ref(route.id, routeAnchor(route.id))] : route.id,
          entry?.id ?? 'none',
          context.classOfRoute(route)?.criticality ?? 'none known',
          route.backupOf === undefined ? 'primary' : `backup of ${route.backupOf}`,
          route.carrier,
          route.by ?? 'none',
          route.from.join('\n'),
          route.to,
          ...(scope.several ? [scope.words(context.maskOf(route))] : []),
          route.assumed === true ? 'assumed' : route.measured === true ? 'measured' : 'documents',
        ],
        ...(route.assumed === true ? { mark: { tone: 'caution', text: 'assumed' } as const } : {}),
      };
    }),
    whenEmpty: 'The map has no route in the builds covered.',
  };
}

/** The parts of an age in the order of the way, by the names the budget gives them. */
const AGE_PARTS = [
  { key: 'sourcePeriod', title: 'Source period', name: 'source period' },
  { key: 'sourceBus', title: 'Source bus', name: 'response, source bus' },
  { key: 'interfacePeriod', title: 'Interface period', name: 'interface period' },
  { key: 'interfaceLatency', title: 'Interface latency', name: 'interface latency' },
  { key: 'steps', title: 'Steps', name: 'kept in steps' },
  { key: 'targetPeriod', title: 'Target period', name: 'target period' },
  { key: 'targetBus', title: 'Target bus', name: 'response, target bus' },
] as const;

/** When a source counts as lost, how it comes back, what the reader then gets, and how old a value may be. */
export function timingTable(translation: Translation, buses: readonly TimedBus[]): Block {
  const { routes, context, open } = translation;
  const through = routes.filter(({ carrier }) => carrier !== 'hard-wire');
  return {
    kind: 'table',
    id: 'timing',
    title: 'Timing, loss and start',
    columns: [
      { key: 'route', title: 'Route', kind: 'code', weight: 22, role: 'key' },
      { key: 'stale', title: 'Stale after', kind: 'number', weight: 7, unit: 'ms', group: 'Loss' },
      { key: 'verifies', title: 'Verifies source', kind: 'text', weight: 9, group: 'Loss' },
      { key: 'loss', title: 'On loss', kind: 'text', weight: 30, group: 'Loss' },
      { key: 'recovery', title: 'Back after', kind: 'number', weight: 7, unit: 'samples', group: 'Loss' },
      { key: 'start', title: 'Before the first sample', kind: 'text', weight: 18, group: 'Loss' },
      { key: 'safe', title: 'Safe state of the function', kind: 'text', weight: 26, group: 'Loss' },
      ...AGE_PARTS.map(({ key, title }): Column => ({ key, title, kind: 'number', weight: 7, group: 'Worst age, ms' })),
      { key: 'age', title: 'Sum', kind: 'number', weight: 8, group: 'Worst age, ms' },
      { key: 'tolerable', title: 'Tolerable', kind: 'number', weight: 8, group: 'Worst age, ms' },
      { key: 'lacks', title: 'Not known', kind: 'text', weight: 16, group: 'Worst age, ms' },
    ],
    rows: through.map((route): Row => {
      const analysis = context.analysis(route);
      const compiled = translation.compiled(route);
      const entry = context.functionOf(route);
      const tolerable = context.classOfRoute(route)?.staleAfterMs ?? null;
      const { parts, totalMs, lacks } = ageBudget(translation, buses, route);
      const late = tolerable !== null && totalMs > tolerable;
      return {
        cells: [
          [ref(route.id, routeAnchor(route.id))],
          route.staleAfterMs ?? open.decide('Stale limit of the route', route.id),
          route.verifySource === true ? 'yes' : 'no',
          route.onLoss === undefined
            ? open.decide('Loss behaviour of the route', route.id)
            : lossText(analysis, compiled),
          route.recoverAfter ??
            (route.carrier === 'bus'
              ? 'next frame'
              : open.decide('Samples until a lost source counts again', route.id)),
          startWords(route, analysis, compiled) ??
            (route.carrier === 'bus'
              ? 'nothing is sent'
              : open.decide('What is given before the first good sample', route.id)),
          entry?.safeState ?? 'no function of the catalogue',
          ...AGE_PARTS.map(({ name }) => parts.find((part) => part.name === name)?.ms ?? 0),
          lacks.length === 0 ? totalMs : `≥ ${totalMs}`,
          tolerable ?? 'not said',
          lacks.length === 0 ? '–' : lacks.join(', '),
        ],
        ...(late ? { mark: { tone: 'caution', text: 'older than tolerable' } as const } : {}),
      };
    }),
    note: 'Worst age: source period, worst response on the source’s bus, interface period and latency, time kept in the steps, target period, worst response on the target’s bus. Tolerable: the function catalogue, or what the map tightens it to.',
  };
}

/** The functions that the routes serve, as the catalogue has them. */
export function functionTable({ routes, context }: Translation): Block {
  const ids = new Map<string, typeof routes>();
  for (const route of routes) {
    const id = context.functionIdOf(route);
    if (id !== null) ids.set(id, [...(ids.get(id) ?? []), route]);
  }
  const rows = [...ids].flatMap(([, own]): Row[] => {
    const entry = context.functionOf(own[0]!);
    if (!entry) return [];
    const is = context.classOf(entry);
    return [
      {
        cells: [
          entry.id,
          entry.title,
          entry.direction.replaceAll('-', ' '),
          is.criticality,
          carrierRuleWords(is.carrierRule),
          entry.law,
          entry.safeState,
          is.staleAfterMs ?? 'not said',
          entry.companions?.join(', ') ?? 'none named',
          routeLinks(own),
        ],
      },
    ];
  });
  return {
    kind: 'table',
    id: 'functions',
    title: 'Functions served',
    columns: [
      { key: 'function', title: 'Function', kind: 'code', weight: 30, role: 'key' },
      { key: 'title', title: 'Title', kind: 'text', weight: 26 },
      { key: 'direction', title: 'Direction', kind: 'text', weight: 14 },
      { key: 'criticality', title: 'Criticality', kind: 'text', weight: 16 },
      { key: 'rule', title: 'Carrier rule', kind: 'text', weight: 22 },
      { key: 'law', title: 'Asked for by law', kind: 'text', weight: 10 },
      { key: 'safe', title: 'Safe state', kind: 'text', weight: 36 },
      { key: 'tolerable', title: 'Tolerable age', kind: 'number', weight: 8, unit: 'ms' },
      { key: 'companions', title: 'Plausible against', kind: 'text', weight: 30 },
      { key: 'routes', title: 'Routes', kind: 'code', weight: 26 },
    ],
    rows,
    note: 'Copied from the function catalogue, raised where the map raises it. “Plausible against” names the functions a value should agree with; limits of agreement are for the firmware author to fix with the vehicle makers’ documents.',
  };
}
