import { Fragment } from 'react';
import type { WalkElement } from '../../../compare/index.ts';
import { ElementMark, FailureMark } from './marks.tsx';

const ROLE_WORDS: Readonly<Record<WalkElement['role'], string>> = {
  source: 'source',
  carries: 'carries',
  supplies: 'supplies',
  reads: 'reads',
};

/** The way of an interlock, element by element, each with what its failure does to the reader. */
export function PathTable({ elements }: { readonly elements: readonly WalkElement[] }) {
  return (
    <table className="path-table">
      <caption className="visually-hidden">The path, element by element</caption>
      <colgroup>
        <col className="column-drawn" />
        <col className="column-element" />
        <col className="column-how" />
        <col />
        <col className="column-standing" />
      </colgroup>
      <thead>
        <tr>
          <th scope="col">
            <span className="visually-hidden">Drawn</span>
          </th>
          <th scope="col">Element</th>
          <th scope="col">When it</th>
          <th scope="col">the reader has</th>
          <th scope="col">which is</th>
        </tr>
      </thead>
      <tbody>
        {elements.map((element, at) => (
          <ElementRows
            key={`${element.kind} ${element.ref} ${element.role} ${at}`}
            element={element}
            isFirst={at === 0}
            isLast={at === elements.length - 1}
          />
        ))}
      </tbody>
    </table>
  );
}

function ElementRows({
  element,
  isFirst,
  isLast,
}: {
  readonly element: WalkElement;
  readonly isFirst: boolean;
  readonly isLast: boolean;
}) {
  const { failures } = element;
  const span = Math.max(1, failures.length);
  const first = failures[0];
  return (
    <>
      <tr className="element-first" data-role={element.role}>
        <td rowSpan={span} className="element-drawn">
          <ElementMark element={element} isFirst={isFirst} isLast={isLast} />
          {isLast ? null : <span className="way-on" aria-hidden="true" />}
        </td>
        <th scope="rowgroup" rowSpan={span}>
          <span className="element-title">{element.title}</span>
          <span className="mono soft">
            {element.ref}
            {element.place === '' ? '' : ` : ${element.place}`}
          </span>
          <span className="soft element-why">
            {element.kind}, {ROLE_WORDS[element.role]}
            {element.role === 'carries' && element.programmable ? (
              <>
                {' '}
                <strong className="programmable">
                  {element.kind === 'bus' ? 'network frame' : 'firmware in series'}
                </strong>
              </>
            ) : null}
            {element.sources.length === 0 ? '' : ` · ${element.sources.join(', ')}`}
          </span>
        </th>
        {first === undefined ? (
          <td colSpan={3} className="soft">
            nothing to say
          </td>
        ) : (
          <FailureCells failure={first} />
        )}
      </tr>
      {failures.slice(1).map((failure) => (
        <tr key={failure.how}>
          <FailureCells failure={failure} />
        </tr>
      ))}
    </>
  );
}

function FailureCells({ failure }: { readonly failure: WalkElement['failures'][number] }) {
  return (
    <Fragment>
      <td className="failure-how">{failure.how}</td>
      <td>{failure.effect}</td>
      <td>
        <FailureMark standing={failure.standing} />
      </td>
    </Fragment>
  );
}
