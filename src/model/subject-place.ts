import type { DocumentName } from './edit-path.ts';
import { locatePaths } from './locate.ts';
import { parseRef } from './reference.ts';
import type { PairingDocuments } from './edit-path.ts';

/** Where in the documents a subject stands. */
export interface SubjectPath {
  readonly document: DocumentName;
  readonly path: readonly (string | number)[];
}

function indexOf(list: readonly { readonly id: string }[] | undefined, id: string): number {
  return list?.findIndex((entry) => entry.id === id) ?? -1;
}

/** The place of a finding's subject (`route:id`, `transmit:side:Message`, `side:Message.Signal`, `xm.in3`, …); the map itself when it has none of its own. */
export function pathOfSubject(documents: PairingDocuments, subject: string): SubjectPath {
  const { map } = documents;
  const whole: SubjectPath = { document: 'map', path: [] };
  const inMap = (key: 'routes' | 'options' | 'interfaceModules', id: string): SubjectPath => {
    const at = indexOf(map[key], id);
    return at < 0 ? whole : { document: 'map', path: [key, at] };
  };
  const colon = subject.indexOf(':');
  const [kind, rest] = [subject.slice(0, colon), subject.slice(colon + 1)];
  switch (kind) {
    case 'route':
      return inMap('routes', rest);
    case 'option':
      return inMap('options', rest);
    case 'transmit': {
      const at = map.transmits.findIndex(({ message }) => message === rest);
      return at < 0 ? whole : { document: 'map', path: ['transmits', at] };
    }
    case 'circuit':
      return pathOfCircuit(documents, rest) ?? whole;
    case 'part':
      return pathOfPart(documents, rest) ?? whole;
    case 'segment': {
      const at = (map.harness?.segments ?? []).findIndex(({ id, from, to }) => (id ?? `${from}-${to}`) === rest);
      return at < 0 ? whole : { document: 'map', path: ['harness', 'segments', at] };
    }
    case 'splice': {
      // A splice is named after the place it serves, and is decided by the stub that leads there.
      const at = (map.harness?.circuits ?? []).findIndex(({ of }) => of === `stub:${rest}`);
      return { document: 'map', path: at < 0 ? ['harness'] : ['harness', 'circuits', at] };
    }
    case 'module':
    case 'bus':
    case 'connector':
    case 'feed':
    case 'ground': {
      const ref = parseRef(rest);
      if (!ref) {
        const at = kind === 'connector' ? indexOf(map.harness?.connectors, rest) : -1;
        return at < 0 ? whole : { document: 'map', path: ['harness', 'connectors', at] };
      }
      const key = kind === 'bus' ? 'buses' : (`${kind}s` as 'modules' | 'connectors' | 'feeds' | 'grounds');
      const at = indexOf(documents[ref.side][key], ref.name);
      return at < 0 ? whole : { document: ref.side, path: [key, at] };
    }
    case 'host':
    case 'donor':
      return pathOfRef(documents, subject) ?? whole;
    default:
      return pathOfPin(documents, subject) ?? pathOfPart(documents, subject) ?? whole;
  }
}

/** What a person decided about a conductor; else the route or interface module that asks for it, from the number made of its key. */
function pathOfCircuit({ map }: PairingDocuments, id: string): SubjectPath | null {
  const choice = indexOf(map.harness?.circuits, id);
  if (choice >= 0) return { document: 'map', path: ['harness', 'circuits', choice] };
  const route = indexOf(map.routes, id.replace(/\/[^/]*$/, ''));
  if (route >= 0) return { document: 'map', path: ['routes', route] };
  const owner = map.interfaceModules.findIndex((one) => `-${id.split('/')[0]}-`.includes(`-${one.id}-`));
  return owner < 0 ? null : { document: 'map', path: ['interfaceModules', owner] };
}

function pathOfPart({ map }: PairingDocuments, id: string): SubjectPath | null {
  const part = indexOf(map.harness?.parts, id);
  return part < 0 ? null : { document: 'map', path: ['harness', 'parts', part] };
}

function pathOfRef(documents: PairingDocuments, text: string): SubjectPath | null {
  const ref = parseRef(text);
  if (!ref) return null;
  const platform = documents[ref.side];
  const wire = ref.signal === null ? indexOf(platform.wires, ref.name) : -1;
  if (wire >= 0) return { document: ref.side, path: ['wires', wire] };
  const message = indexOf(platform.messages, ref.name);
  if (message < 0) return null;
  if (ref.signal === null) return { document: ref.side, path: ['messages', message] };
  const signal = indexOf(platform.messages[message]!.signals, ref.signal);
  return { document: ref.side, path: signal < 0 ? ['messages', message] : ['messages', message, 'signals', signal] };
}

function pathOfPin({ map }: PairingDocuments, text: string): SubjectPath | null {
  const dot = text.indexOf('.');
  const owner = indexOf(map.interfaceModules, dot < 0 ? text : text.slice(0, dot));
  if (owner < 0) return null;
  const path = ['interfaceModules', owner] as const;
  if (dot < 0) return { document: 'map', path };
  const pin = indexOf(map.interfaceModules[owner]!.pins, text.slice(dot + 1));
  if (pin >= 0) return { document: 'map', path: [...path, 'pins', pin] };
  const port = indexOf(map.interfaceModules[owner]!.ports, text.slice(dot + 1));
  return { document: 'map', path: port < 0 ? path : [...path, 'ports', port] };
}

/** Line and column, from 1, of each path in a document's text. */
export function linesOfPaths(
  text: string,
  paths: readonly (readonly (string | number)[])[],
): readonly { line: number; column: number }[] {
  return locatePaths(
    text,
    paths,
    paths.map(() => false),
  );
}
