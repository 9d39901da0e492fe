import type { Route, WireEntry, WireMeaning } from '../../model/index.ts';
import type { Block, Row, Section } from '../document/index.ts';
import { ref } from '../document/index.ts';
import { unitCode } from '../record/index.ts';
import { electricalText } from './interface-section.ts';
import { routeAnchor, type Translation } from './translation.ts';

/** Wires that end in a pin of an interface module: what is at the other end, what it means, what the pin sees. */
export function physicalSection(translation: Translation): Section {
  return {
    id: 'physical',
    title: 'Physical inputs and outputs',
    startsPage: true,
    blocks: [ioTable(translation), curveTable(translation)],
  };
}

interface WireAtPin {
  readonly route: Route;
  readonly entry: WireEntry;
  readonly direction: 'in' | 'out';
  readonly pin: string | undefined;
}

function wiresAtPins({ pairing, routes }: Translation): readonly WireAtPin[] {
  return routes.flatMap((route): WireAtPin[] => {
    if (route.carrier !== 'interface') return [];
    let place = 0;
    const sources = route.from.flatMap((source): WireAtPin[] => {
      const entry = pairing.find(source);
      return entry?.kind === 'wire' ? [{ route, entry, direction: 'in', pin: route.enters?.[place++] }] : [];
    });
    const target = pairing.find(route.to);
    return target?.kind === 'wire'
      ? [...sources, { route, entry: target, direction: 'out', pin: route.leaves }]
      : sources;
  });
}

function meaningText(meaning: WireMeaning | undefined): string | null {
  if (meaning === undefined) return null;
  if ('active' in meaning) return `active: ${meaning.active}; inactive: ${meaning.inactive}`;
  if ('scale' in meaning)
    return `${meaning.scale.factor} · ${meaning.scale.of} + ${meaning.scale.offset ?? 0} ${unitCode(meaning.unit)}, ${meaning.scale.range[0]} … ${meaning.scale.range[1]}`;
  if ('curve' in meaning)
    return `curve of ${meaning.curve.points.length} points, ${meaning.curve.of} → ${unitCode(meaning.unit)}: see below`;
  return meaning.codes.map(({ ohm, state }) => `${ohm[0]}–${ohm[1]} Ω ${state}`).join('; ');
}

function ioTable(translation: Translation): Block {
  const { open, context, scope } = translation;
  return {
    kind: 'table',
    id: 'physical-io',
    title: 'Wires at the pins',
    columns: [
      { key: 'route', title: 'Route', kind: 'code', weight: 20, role: 'key' },
      { key: 'direction', title: 'Direction', kind: 'text', weight: 7 },
      { key: 'pin', title: 'Pin', kind: 'code', weight: 9 },
      { key: 'wire', title: 'Wire', kind: 'code', weight: 24 },
      { key: 'title', title: 'What it is', kind: 'text', weight: 24 },
      { key: 'class', title: 'Class at the vehicle', kind: 'text', weight: 18 },
      { key: 'levels', title: 'Levels at the vehicle', kind: 'text', weight: 30 },
      { key: 'active', title: 'Active level', kind: 'text', weight: 7 },
      { key: 'meaning', title: 'Meaning', kind: 'text', weight: 40 },
      { key: 'period', title: 'Looked at every', kind: 'number', weight: 8, unit: 'ms' },
      { key: 'debounce', title: 'Debounce', kind: 'number', weight: 8, unit: 'ms' },
      ...(scope.several ? [{ key: 'builds', title: 'Builds', kind: 'text', weight: 12 } as const] : []),
    ],
    rows: wiresAtPins(translation).map(({ route, entry, direction, pin }): Row => {
      const { wire } = entry;
      const debounce = (route.steps ?? []).flatMap((step) => (step.do === 'debounce' ? [step.forMs] : []));
      const by = translation.pairing.interfaceModules.get(route.by ?? '');
      return {
        cells: [
          [ref(route.id, routeAnchor(route.id))],
          direction,
          pin === undefined ? open.decide('Pin of the wire', `route ${route.id}`) : `${route.by}.${pin}`,
          entry.ref,
          wire.title,
          wire.electrical.class,
          electricalText(wire.electrical) || open.decide('Levels of the wire', entry.ref),
          wire.electrical.activeLevel ?? '–',
          meaningText(wire.meaning) ?? open.decide('Meaning of the levels of the wire', entry.ref),
          by?.periodMs ?? 'not known',
          debounce.length === 0 ? 'none' : Math.max(...debounce),
          ...(scope.several ? [scope.words(context.maskOf(route))] : []),
        ],
      };
    }),
    whenEmpty: 'No route goes through a pin.',
    note: '“Looked at every” is the task period of the interface module.',
  };
}

function curveTable(translation: Translation): Block {
  const seen = new Set<string>();
  const rows = wiresAtPins(translation).flatMap(({ entry }): Row[] => {
    const { meaning } = entry.wire;
    if (meaning === undefined || !('curve' in meaning) || seen.has(entry.ref)) return [];
    seen.add(entry.ref);
    const { points, of } = meaning.curve;
    return points.map(([x, y]): Row => ({
      cells: [entry.ref, String(x), of === 'Ohm' ? 'Ω' : of, String(y), unitCode(meaning.unit)],
    }));
  });
  return {
    kind: 'table',
    id: 'wire-curves',
    title: 'Measured curves of wires',
    columns: [
      { key: 'wire', title: 'Wire', kind: 'code', weight: 26, role: 'key' },
      { key: 'x', title: 'At', kind: 'number', weight: 12 },
      { key: 'xUnit', title: 'Of', kind: 'text', weight: 6 },
      { key: 'y', title: 'Means', kind: 'number', weight: 12 },
      { key: 'yUnit', title: 'Unit', kind: 'code', weight: 12 },
    ],
    rows,
    whenEmpty: 'No wire at a pin is read by a curve.',
    note: 'Straight lines between the points; beyond them the end values hold.',
  };
}
