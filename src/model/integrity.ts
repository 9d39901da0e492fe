import type { CrossloomMap } from './document/map.ts';
import type { Platform } from './document/platform.ts';
import { repeatedIds } from './reference.ts';

/** A fault of a whole document which its schema cannot see. */
export interface IntegrityFault {
  readonly path: readonly (string | number)[];
  readonly message: string;
  readonly mend: string | null;
  /** The fault is the key itself, not its value. */
  readonly atKey?: boolean;
}

function repeats(
  faults: IntegrityFault[],
  path: readonly (string | number)[],
  list: readonly { readonly id: string }[] | undefined,
): void {
  for (const { id, index, first } of repeatedIds(list ?? [])) {
    faults.push({
      path: [...path, index, 'id'],
      message: `the id "${id}" stands twice in ${path.join('.')} (first at position ${first})`,
      mend: 'give one of the two another id',
    });
  }
}

/** Ids that stand twice, and names of buses, modules and multiplexers that do not exist: a reference would have two meanings or none. */
export function checkPlatformIntegrity(platform: Platform): IntegrityFault[] {
  const faults: IntegrityFault[] = [];
  for (const key of ['documents', 'buses', 'modules', 'messages', 'wires', 'connectors', 'feeds', 'grounds'] as const) {
    repeats(faults, [key], platform[key]);
  }
  const buses = new Set(platform.buses.map(({ id }) => id));
  const modules = new Set(platform.modules.map(({ id }) => id));
  const messageIds = new Set(platform.messages.map(({ id }) => id));
  const unknown = (path: readonly (string | number)[], what: string, id: string): void => {
    faults.push({
      path,
      message: `there is no ${what} "${id}" in this platform`,
      mend: `add the ${what}, or correct the name`,
    });
  };
  const wantModules = (path: readonly (string | number)[], ids: readonly string[] | undefined): void => {
    ids?.forEach((id, index) => {
      if (!modules.has(id)) unknown([...path, index], 'module', id);
    });
  };
  platform.modules.forEach((module, at) => {
    module.buses?.forEach((id, index) => {
      if (!buses.has(id)) unknown(['modules', at, 'buses', index], 'bus', id);
    });
  });
  platform.messages.forEach((message, at) => {
    const path = ['messages', at] as const;
    if (!buses.has(message.bus)) unknown([...path, 'bus'], 'bus', message.bus);
    if (message.sender !== null && !modules.has(message.sender)) unknown([...path, 'sender'], 'module', message.sender);
    wantModules([...path, 'otherSenders'], message.otherSenders);
    wantModules([...path, 'readers'], message.readers);
    const signals = new Map(message.signals.map((signal) => [signal.id, signal]));
    if (signals.size !== message.signals.length) repeats(faults, [...path, 'signals'], message.signals);
    message.signals.forEach((signal, index) => {
      if (signal.readers) wantModules([...path, 'signals', index, 'readers'], signal.readers);
      const by = signal.multiplexed?.by;
      if (by !== undefined && !signals.has(by)) unknown([...path, 'signals', index, 'multiplexed', 'by'], 'signal', by);
    });
    cyclicMultiplexing(message, at, faults);
  });
  platform.wires.forEach((wire, at) => {
    const path = ['wires', at] as const;
    if (messageIds.has(wire.id)) {
      faults.push({
        path: [...path, 'id'],
        message: `"${wire.id}" is a message and a wire: host:${wire.id} would name both`,
        mend: 'rename the wire',
      });
    }
    if (!modules.has(wire.module)) unknown([...path, 'module'], 'module', wire.module);
    if (wire.driver !== undefined && !modules.has(wire.driver)) unknown([...path, 'driver'], 'module', wire.driver);
    wantModules([...path, 'readers'], wire.readers);
  });
  return faults;
}

/** A multiplexer that hangs, through others, on itself can never be selected. */
function cyclicMultiplexing(message: Platform['messages'][number], at: number, faults: IntegrityFault[]): void {
  const parents = new Map<string, string>();
  for (const signal of message.signals) if (signal.multiplexed) parents.set(signal.id, signal.multiplexed.by);
  if (parents.size === 0) return;
  message.signals.forEach((signal, index) => {
    let current = parents.get(signal.id);
    for (let steps = 0; current !== undefined && steps <= parents.size; steps += 1) {
      if (current === signal.id) {
        faults.push({
          path: ['messages', at, 'signals', index, 'multiplexed', 'by'],
          message: `"${signal.id}" selects itself through its multiplexers`,
          mend: 'break the circle: one selector must not be multiplexed',
        });
        return;
      }
      current = parents.get(current);
    }
  });
}

/** Ids that stand twice in a map. References into the platforms are for the checks to judge. */
export function checkMapIntegrity(map: CrossloomMap): IntegrityFault[] {
  const faults: IntegrityFault[] = [];
  repeats(faults, ['options'], map.options);
  repeats(faults, ['interfaceModules'], map.interfaceModules);
  repeats(faults, ['routes'], map.routes);
  map.interfaceModules.forEach((owner, at) => {
    repeats(faults, ['interfaceModules', at, 'ports'], owner.ports);
    repeats(faults, ['interfaceModules', at, 'pins'], owner.pins);
  });
  if (map.harness) {
    for (const key of ['connectors', 'parts', 'nodes', 'circuits'] as const)
      repeats(faults, ['harness', key], map.harness[key]);
  }
  const combinations = (map.options ?? []).reduce((product, axis) => product * axis.choices.length, 1);
  if (combinations > 4096) {
    faults.push({
      path: ['options'],
      message: `the options make ${combinations} combinations; at most 4096 can be checked`,
      mend: 'drop an axis or split the map',
    });
  }
  map.options?.forEach((axis, at) => {
    if (new Set(axis.choices).size !== axis.choices.length) {
      faults.push({
        path: ['options', at, 'choices'],
        message: `the option "${axis.id}" has a choice twice`,
        mend: 'name each choice once',
      });
    }
  });
  return faults;
}
