import { useMemo } from 'react';
import { pathsOf, type Pairing, type Route } from '../../../model/index.ts';

/** Every element of a route's paths that must work, each once; those in which firmware decides are marked. */
export function PathList({ pairing, route }: { readonly pairing: Pairing; readonly route: Route }) {
  const paths = useMemo(() => pathsOf(pairing, route), [pairing, route]);
  const elements = useMemo(
    () => [
      ...new Map(
        paths.flatMap((path) => path.elements).map((element) => [`${element.ref} ${element.role}`, element]),
      ).values(),
    ],
    [paths],
  );
  if (elements.length === 0) return null;
  const isHard = paths.length > 0 && paths.every(({ hard }) => hard);
  return (
    <section>
      <h3>Path: what must work</h3>
      <p className="soft">
        {isHard
          ? 'A conductor from end to end: nothing programmable between the source and the reader.'
          : 'Firmware or a network is in series.'}
      </p>
      <ol className="path-list">
        {elements.map(({ ref, kind, role, programmable, why }) => (
          <li key={`${ref} ${role}`} title={why} data-programmable={programmable || undefined}>
            <span className="path-shape" aria-hidden="true" />
            <span className="mono">{ref}</span>
            <span className="soft">
              {kind}
              {role === 'carries' ? '' : `, ${role}`}
            </span>
            {programmable ? <span className="firmware-word">firmware</span> : null}
          </li>
        ))}
      </ol>
    </section>
  );
}
