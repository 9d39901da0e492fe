export type SideName = 'host' | 'donor';

/** A parsed reference: `host:Engine.Speed` → { side: 'host', name: 'Engine', signal: 'Speed' }. */
export interface ParsedRef {
  readonly side: SideName;
  readonly name: string;
  readonly signal: string | null;
}

/** Reads `side:name` or `side:Message.Signal`; null when the text is not of that form. */
export function parseRef(text: string): ParsedRef | null {
  const colon = text.indexOf(':');
  const side = text.slice(0, colon);
  if (side !== 'host' && side !== 'donor') return null;
  const rest = text.slice(colon + 1);
  const dot = rest.indexOf('.');
  if (dot < 0) return rest.length > 0 ? { side, name: rest, signal: null } : null;
  if (dot === 0 || dot === rest.length - 1) return null;
  return { side, name: rest.slice(0, dot), signal: rest.slice(dot + 1) };
}

export function signalRef(side: SideName, messageId: string, signalId: string): string {
  return `${side}:${messageId}.${signalId}`;
}

export function sideRef(side: SideName, id: string): string {
  return `${side}:${id}`;
}

export function otherSide(side: SideName): SideName {
  return side === 'host' ? 'donor' : 'host';
}

/** Reference of an interface module's pin or port: `xm.in3`. */
export function pinRef(interfaceModuleId: string, pinId: string): string {
  return `${interfaceModuleId}.${pinId}`;
}

/** Ids which occur twice in a list, in order of their second occurrence, with the index of each repeat. */
export function repeatedIds(list: readonly { readonly id: string }[]): { id: string; index: number; first: number }[] {
  const seen = new Map<string, number>();
  const repeats: { id: string; index: number; first: number }[] = [];
  list.forEach(({ id }, index) => {
    const first = seen.get(id);
    if (first === undefined) seen.set(id, index);
    else repeats.push({ id, index, first });
  });
  return repeats;
}
