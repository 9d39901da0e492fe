import { pair, type Pairing } from '../../src/model/index.ts';
import { mapOf, platformOf } from './small-pairing.ts';

/** 2,000 hard wires between 40 connectors a side on a trunk of 40 branches; every tenth taps the source of the one before. */
export function largePairing(count: number): Pairing {
  const connectors = Array.from({ length: 40 }, (_, index) => ({
    id: `K${index}`,
    title: `Connector ${index}`,
    cavities: Array.from({ length: Math.ceil(count / 40) }, (__, cavity) => `${cavity}`),
    rows: 4,
    sealed: true,
  }));
  const wires = (direction: 'in' | 'out') =>
    Array.from({ length: count }, (_, index) => ({
      id: `w${index}`,
      title: `Wire ${index}`,
      module: 'm',
      direction,
      electrical: direction === 'out' ? { class: 'switched-ground', maxA: 1 } : { class: 'input-pull-up-12v' },
      at: { connector: `K${index % 40}`, cavity: `${Math.floor(index / 40)}` },
    }));
  const side = (id: string, direction: 'in' | 'out') =>
    platformOf(id, { modules: [{ id: 'm', title: 'M' }], connectors, wires: wires(direction) });
  const nodes = Array.from({ length: 40 }, (_, index) => [
    { id: `b${index}`, kind: 'branch' },
    { id: `h${index}`, kind: 'connector', connector: `host:K${index}` },
    { id: `d${index}`, kind: 'connector', connector: `donor:K${index}` },
  ]).flat();
  const segments = Array.from({ length: 40 }, (_, index) => [
    ...(index === 0 ? [] : [{ from: `b${index - 1}`, to: `b${index}`, lengthM: 0.2 }]),
    { from: `h${index}`, to: `b${index}`, lengthM: 0.3 },
    { from: `d${index}`, to: `b${index}`, lengthM: 0.4 },
  ]).flat();
  const routes = Array.from({ length: count }, (_, index) => ({
    id: `r${index}`,
    from: [`donor:w${index % 10 === 9 ? index - 1 : index}`],
    to: `host:w${(index * 7) % count}`,
    carrier: 'hard-wire',
  }));
  return pair(
    mapOf({ routes, harness: { connectors: [], nodes, segments, circuits: [] } }),
    side('host', 'in'),
    side('donor', 'out'),
  );
}
