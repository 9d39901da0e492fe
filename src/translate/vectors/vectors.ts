import { type Combination, type Pairing, type Route, holds, mapDigest } from '../../model/index.ts';
import { busNames } from '../log/index.ts';
import { planModule } from '../plan/build.ts';
import type { PlannedTransmit } from '../plan/types.ts';
import { idText } from './expectation.ts';
import { vectorsOfRoute } from './route-vectors.ts';
import type { VectorBench } from './vector-bench.ts';
import { type RouteVectors, type SentRule, VECTORS_FORMAT, VECTORS_VERSION, type VectorsFile } from './schema.ts';

export interface VectorOptions {
  /** Routes by id; all when absent. */
  readonly routes?: readonly string[];
  /** Only routes that this interface module carries. */
  readonly module?: string;
  /** Builds to look at; all when absent. Every route is shown in the first of them that has it. */
  readonly combinations?: readonly Combination[];
  /** What the buses may add to the way of a frame, in µs. */
  readonly busUs?: number;
}

/** Enough for a frame of the lowest priority on a classic bus at half its load. */
export const USUAL_BUS_US = 5_000;

/** A maker of vectors, one route at a time: making all of them takes a while on a big map. */
export interface VectorMaker {
  readonly routes: readonly Route[];
  make(route: Route): RouteVectors;
  /** The file around the vectors made so far. */
  file(routes: readonly RouteVectors[]): VectorsFile;
}

/** Makes vectors for the routes of a map that `options` asks for. Unknown ids are the caller's to refuse. */
export function createVectorMaker(pairing: Pairing, options: VectorOptions = {}): VectorMaker {
  const { combinations = pairing.options.combinations, busUs = USUAL_BUS_US } = options;
  const benches = new Map<Combination, VectorBench>();
  const benchFor = (combination: Combination): VectorBench => {
    const known = benches.get(combination);
    if (known !== undefined) return known;
    const plans = pairing.map.interfaceModules
      .filter(({ when }) => when === undefined || holds(when, combination))
      .map((module) => planModule(pairing, module, combination));
    const bench = { pairing, combination, plans, busUs };
    benches.set(combination, bench);
    return bench;
  };
  const buildOf = (route: Route): Combination | undefined =>
    combinations.find((combination) => route.when === undefined || holds(route.when, combination));
  const routes = pairing.map.routes.filter(
    (route) =>
      (options.routes === undefined || options.routes.includes(route.id)) &&
      (options.module === undefined || carries(pairing, options.module, route)) &&
      buildOf(route) !== undefined,
  );
  return {
    routes,
    make: (route) => vectorsOfRoute(benchFor(buildOf(route)!), route),
    file: (made) => ({
      format: VECTORS_FORMAT,
      version: VECTORS_VERSION,
      map: { id: pairing.map.id, revision: pairing.map.revision, digest: mapDigest(pairing.map) },
      busAllowanceUs: busUs,
      interfaces: interfacesOf(pairing),
      sent: [...benches.values()].flatMap(({ plans, combination }) =>
        plans.flatMap((plan) => plan.transmits.map((transmit) => sentRule(transmit, combination))),
      ),
      routes: [...made],
    }),
  };
}

function carries(pairing: Pairing, module: string, { carrier, by }: Route): boolean {
  if (carrier !== 'interface') return false;
  return by === undefined ? pairing.map.interfaceModules.length === 1 : by === module;
}

/** The name of every bus in the logs beside the vectors: what a log reader of this map takes without being told. */
export function interfacesOf(pairing: Pairing): VectorsFile['interfaces'] {
  const { buses, nameOf } = busNames(pairing);
  return buses.map((bus) => ({ name: nameOf(bus), bus }));
}

function sentRule(
  { ref, bus, frameId, extended, fd, lengthBytes, counter, checksum }: PlannedTransmit,
  combination: Combination,
): SentRule {
  return {
    message: ref,
    build: Object.fromEntries(combination),
    bus,
    frameId: idText(frameId),
    idFormat: extended ? 'extended' : 'standard',
    frameFormat: fd ? 'fd' : 'classic',
    lengthBytes,
    ...(counter === null
      ? {}
      : { counter: { field: counter.bits, modulo: counter.spec.modulo, skips: [...(counter.spec.skips ?? [])] } }),
    ...(checksum === null
      ? {}
      : { checksum: { field: checksum.field, algorithm: checksum.algorithm, input: [...checksum.input] } }),
  };
}
