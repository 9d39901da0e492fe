import { deriveCircuits, type Circuit, type CircuitEnd, type Pairing } from '../model/index.ts';
import type { Change } from './change.ts';
import { differingFields } from './differences.ts';

/** Where a conductor ends, for people: `C2-14`, `G101`, `k1.30`. */
export function endWords(end: CircuitEnd): string {
  switch (end.kind) {
    case 'cavity':
      return `${end.connector}-${end.cavity}${end.joint === 'tap' ? ' (spliced onto)' : ''}`;
    case 'stud':
      return end.stud === null ? end.ground : `${end.ground} stud ${end.stud}`;
    case 'part':
      return `${end.part}.${end.terminal}`;
    case 'splice':
      return end.splice.startsWith('splice') ? end.splice : `splice ${end.splice}`;
    case 'unknown':
      return `unknown place of ${end.of}`;
  }
}

/** What a harness builder does with a conductor, field by field. */
function builtAs(circuit: Circuit, pairing: Pairing): Readonly<Record<string, unknown>> {
  const { conductor, fuse } = circuit;
  return {
    number: circuit.id,
    from: endWords(circuit.from),
    to: endWords(circuit.to),
    size: conductor.size ?? undefined,
    colour: conductor.colour ?? undefined,
    lengthM: conductor.lengthM ?? undefined,
    shielded: conductor.shielded || undefined,
    twistedWith: circuit.twistGroup ?? undefined,
    fuse: fuse === null ? undefined : `${fuse.id}${fuse.fuseA === null ? '' : ` ${fuse.fuseA} A`}`,
    builds: pairing.options.describe(circuit.mask).join(' or ') || undefined,
  };
}

/**
 * The conductors of the added harness that came, went or are built differently, whatever in the map or the platforms caused it. Known by
 * what asks for them, so that a new number on the same conductor is a change of it.
 */
export function circuitChanges(before: Pairing, after: Pairing): Change[] {
  const [old, now] = [before, after].map(
    (pairing) => new Map(deriveCircuits(pairing).map((circuit) => [circuit.key, circuit])),
  );
  return [...new Set([...old!.keys(), ...now!.keys()])].flatMap((key): Change[] => {
    const [was, is] = [old!.get(key), now!.get(key)];
    const named = { what: 'conductor', subject: `circuit:${(is ?? was)!.id}`, was: null, fields: [] };
    if (!was)
      return [{ ...named, kind: 'added', consequences: [`runs from ${endWords(is!.from)} to ${endWords(is!.to)}`] }];
    if (!is)
      return [{ ...named, kind: 'removed', consequences: [`ran from ${endWords(was.from)} to ${endWords(was.to)}`] }];
    const fields = differingFields(builtAs(was, before), builtAs(is, after));
    if (fields.length === 0) return [];
    const moved = fields.filter(({ path }) => path === 'from' || path === 'to');
    return [
      {
        ...named,
        kind: 'changed',
        fields,
        consequences: moved.map(({ from, to }) => `its end moves from ${String(from)} to ${String(to)}`),
      },
    ];
  });
}
