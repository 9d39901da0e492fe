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

/** What a harness builder does with a conductor, field by field; `ends` in the direction it is compared in. */
function builtAs(circuit: Circuit, pairing: Pairing, [from, to]: Ends): Readonly<Record<string, unknown>> {
  const { conductor, fuse } = circuit;
  return {
    number: circuit.id,
    from,
    to,
    size: conductor.size ?? undefined,
    colour: conductor.colour ?? undefined,
    lengthM: conductor.lengthM ?? undefined,
    shielded: conductor.shielded || undefined,
    twistedWith: circuit.twistGroup ?? undefined,
    fuse: fuse === null ? undefined : `${fuse.id}${fuse.fuseA === null ? '' : ` ${fuse.fuseA} A`}`,
    builds: pairing.options.describe(circuit.mask).join(' or ') || undefined,
  };
}

/** Both ends in words, the one whose place comes first by its name at the left: a conductor has no direction. */
function endsOf({ from, to }: Circuit): Ends {
  const [a, b] = [endWords(from), endWords(to)];
  return a <= b ? [a, b] : [b, a];
}

type Ends = readonly [string, string];

/** The ends of a conductor turned so that an end which stayed stands where it stood. */
function endsLike([from, to]: Ends, [wasFrom, wasTo]: Ends): Ends {
  const stays = from === wasFrom || to === wasTo;
  return !stays && (to === wasFrom || from === wasTo) ? [to, from] : [from, to];
}

/** The name by which a conductor is known, whichever of the routes that share it stands first in the map. */
function nameOf({ key, otherKeys }: Circuit): string {
  return [key, ...otherKeys].reduce((least, one) => (one < least ? one : least));
}

/**
 * The conductors of the added harness that came, went or are built differently, whatever in the map or the platforms caused it. Known by
 * what asks for them, so that a new number on the same conductor is a change of it.
 */
export function circuitChanges(before: Pairing, after: Pairing): Change[] {
  const [old, now] = [before, after].map(
    (pairing) => new Map(deriveCircuits(pairing).map((circuit) => [nameOf(circuit), circuit])),
  );
  return [...new Set([...old!.keys(), ...now!.keys()])].flatMap((key): Change[] => {
    const [was, is] = [old!.get(key), now!.get(key)];
    const named = { what: 'conductor', subject: `circuit:${(is ?? was)!.id}`, was: null, fields: [] };
    if (!was) return [{ ...named, kind: 'added', consequences: [`runs from ${endsOf(is!).join(' to ')}`] }];
    if (!is) return [{ ...named, kind: 'removed', consequences: [`ran from ${endsOf(was).join(' to ')}`] }];
    const ends = endsOf(was);
    const turned = endsLike(endsOf(is), ends);
    const fields = differingFields(builtAs(was, before, ends), builtAs(is, after, turned));
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
