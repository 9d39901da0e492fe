import type { Cavity, Edit, Json, Pairing, SideName } from '../../../model/index.ts';
import { busMemory } from '../../bus-segments.ts';
import type { CheckContext } from '../../context.ts';
import { mendBy } from '../../mends.ts';
import { commonPractice, named, type Draft, type Mend, type Rule } from '../../rule.ts';
import { copperCase, moduleWithPort } from '../../examples/bus-case.ts';
import type { MapInput, WireInput } from '../../examples/documents.ts';

type Line = 'high' | 'low';

/** What one place of the documents says about a cavity. */
interface Told {
  readonly line: Line;
  readonly by: string;
  /** `side:bus` it speaks of; null for a wire, which names none. */
  readonly bus: string | null;
  /** The port it is, as `[interface module, port]`. */
  readonly port: readonly [string, string] | null;
}

export const rule: Rule = {
  id: 'bus/lines-swapped',
  severity: 'stop',
  title: 'High and low of a bus are exchanged',
  why: 'With CAN high on CAN low every dominant bit looks recessive to the other end: the bus stands in error and nobody on it is heard. A meter at rest shows about 2.5 V on both, so only the documents or a scope tell.',
  sources: [commonPractice('follow both lines cavity by cavity through every connector')],
  check: {
    bus: (context, { side, bus }) => contradictions(context).get(`${side}:${bus.id}`) ?? null,
  },
  examples: {
    failing: () => ({
      says: 'The bus is tapped at cavities 1 (high) and 2 (low); the platform’s own wires say 1 is low and 2 is high.',
      documents: taps('can-low', 'can-high'),
      expect: ['bus:host:body-can', 'bus:host:body-can'],
    }),
    passing: () => ({
      says: 'Tap and wires agree.',
      documents: taps('can-high', 'can-low'),
      expect: [],
    }),
  },
};

const found = new WeakMap<object, ReadonlyMap<string, readonly Draft[]>>();

/** Cavities that are said to be both lines, by bus; looked for once as long as neither harness nor ports change. */
function contradictions(context: CheckContext): ReadonlyMap<string, readonly Draft[]> {
  const { copper } = busMemory(context);
  const known = found.get(copper);
  if (known) return known;
  const drafts = new Map<string, Draft[]>();
  for (const [cavity, told] of toldOf(context.pairing)) {
    const high = told.find(({ line }) => line === 'high');
    const low = told.find(({ line }) => line === 'low');
    const bus = told.find((one) => one.bus !== null)?.bus;
    if (!high || !low || !bus) continue;
    const list = drafts.get(bus) ?? [];
    list.push({
      message: `cavity ${cavity} is CAN high for ${high.by} and CAN low for ${low.by}`,
      values: [named('cavity', cavity), named('high', high.by), named('low', low.by)],
      mend: turn(context.pairing, high, low),
    });
    drafts.set(bus, list);
  }
  found.set(copper, drafts);
  return drafts;
}

function toldOf(pairing: Pairing): ReadonlyMap<string, readonly Told[]> {
  const all = new Map<string, Told[]>();
  const tell = (connector: string, cavity: string, told: Told): void => {
    const key = `${connector}/${cavity}`;
    const list = all.get(key);
    if (list) list.push(told);
    else all.set(key, [told]);
  };
  for (const { name, platform } of [pairing.host, pairing.donor]) {
    for (const { id, tap } of platform.buses) {
      for (const line of LINES) {
        if (tap) tell(`${name}:${tap[line].connector}`, tap[line].cavity, ofTap(name, id, line));
      }
    }
    for (const wire of platform.wires) {
      const line = lineOf(wire.electrical.class);
      if (line !== null && wire.at)
        tell(`${name}:${wire.at.connector}`, wire.at.cavity, { line, by: `${name}:${wire.id}`, bus: null, port: null });
    }
  }
  for (const { id, ports } of pairing.map.interfaceModules) {
    for (const port of ports) {
      for (const line of LINES) {
        const at = port.at?.[line];
        if (at) tell(at.connector, at.cavity, { line, by: `${id}.${port.id}`, bus: port.bus, port: [id, port.id] });
      }
    }
  }
  return all;
}

const LINES: readonly Line[] = ['high', 'low'];

function ofTap(side: SideName, bus: string, line: Line): Told {
  return { line, by: `the tap of ${side}:${bus}`, bus: `${side}:${bus}`, port: null };
}

function lineOf(electrical: string): Line | null {
  return electrical === 'can-high' ? 'high' : electrical === 'can-low' ? 'low' : null;
}

/** Turns a port round, where one of the two is a port: its cavities are this pairing's to choose. */
function turn(pairing: Pairing, a: Told, b: Told): Mend | null {
  const ports = [a.port, b.port].filter((port) => port !== null);
  if (ports.length !== 1) return null;
  const [owner, id] = ports[0]!;
  const at = pairing.interfaceModules.get(owner)?.ports.find((port) => port.id === id)?.at;
  if (!at) return null;
  const edit: Edit = {
    do: 'set',
    in: 'map',
    path: ['interfaceModules', { id: owner }, 'ports', { id }, 'at'],
    to: { high: cavityOf(at.low), low: cavityOf(at.high) },
  };
  return mendBy(`exchange the two cavities of ${owner}.${id}`, edit);
}

function cavityOf({ connector, cavity }: Cavity): Json {
  return { connector, cavity };
}

function taps(first: 'can-high' | 'can-low', second: 'can-high' | 'can-low') {
  const wire = (id: string, cavity: string, electrical: 'can-high' | 'can-low'): WireInput => ({
    id,
    title: `Line of the chassis bus in cavity ${cavity}`,
    module: 'cluster',
    direction: 'out',
    electrical: { class: electrical },
    at: { connector: 'X1', cavity },
    documents: ['sheet-1'],
  });
  const map: Partial<MapInput> = { interfaceModules: [moduleWithPort({ stubM: 0.5 })] };
  return copperCase(
    { tap: { high: { connector: 'X1', cavity: '1' }, low: { connector: 'X1', cavity: '2' } } },
    {
      map,
      host: {
        connectors: [{ id: 'X1', title: 'Chassis harness', cavities: ['1', '2'] }],
        wires: [wire('line-1', '1', first), wire('line-2', '2', second)],
      },
    },
  );
}
