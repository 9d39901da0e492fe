import type { Edit, InterfaceModule, PairingDocuments } from '../../model/index.ts';

/** Period and latency of an interface module nobody has chosen yet (common practice); to be replaced by those of its data sheet. */
const ASSUMED = { periodMs: 10, latencyMs: 2 } as const;

/** The edit that adds an interface module with a port on every bus of both sides. */
export function interfaceModuleEdit({ map, host, donor }: PairingDocuments): Edit {
  const taken = new Set(map.interfaceModules.map(({ id }) => id));
  let id = 'xm';
  for (let count = 2; taken.has(id); count += 1) id = `xm${count}`;
  const buses = [...host.buses.map((bus) => `host:${bus.id}`), ...donor.buses.map((bus) => `donor:${bus.id}`)];
  const value: InterfaceModule = {
    id,
    title: 'Interface module',
    ...ASSUMED,
    ports: buses.map((bus, index) => ({ id: portName(index), bus })),
    pins: [],
    note: 'Period and latency are assumed: replace them by those of the module that is fitted.',
  };
  return { do: 'insert', in: 'map', path: ['interfaceModules'], value: value as never };
}

/** A … Z, then P27, P28, … */
function portName(index: number): string {
  return index < 26 ? String.fromCharCode(65 + index) : `P${index + 1}`;
}
