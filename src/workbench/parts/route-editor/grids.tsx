import { EntryField } from './EntryField.tsx';
import { readExact, readState, type Entry } from './entry.ts';

type Exact = number | string;

function RowButton({
  label,
  onPress,
  sign,
}: {
  readonly label: string;
  readonly sign: string;
  readonly onPress: () => void;
}) {
  return (
    <button type="button" className="button quiet small grid-button" aria-label={label} onClick={onPress}>
      {sign}
    </button>
  );
}

interface MapGridProps<T extends Exact> {
  readonly label: string;
  readonly map: Readonly<Record<string, T>>;
  readonly keyNames: readonly string[];
  readonly valueNames: readonly string[];
  readonly read: (text: string) => Entry<T>;
  readonly fresh: T;
  readonly isNumber?: boolean;
  readonly onMap: (map: Record<string, T>) => string | null;
}

/** A table of state → value, one line each. */
export function MapGrid<T extends Exact>(props: MapGridProps<T>) {
  const entries = Object.entries(props.map) as [string, T][];
  const replace = (at: number, entry: readonly [string, T] | null): string | null =>
    props.onMap(Object.fromEntries(entries.flatMap((old, index) => (index !== at ? [old] : entry ? [entry] : []))));
  const missing = props.keyNames.find((name) => !Object.hasOwn(props.map, name));
  return (
    <div className="mini-grid" role="group" aria-label={props.label}>
      {entries.map(([key, value], at) => (
        <div key={key} className="mini-row">
          <EntryField
            label={`${props.label}: from ${at + 1}`}
            isLabelHidden
            text={key}
            suggestions={props.keyNames}
            read={readState}
            onEntry={(next) => {
              if (next !== key && Object.hasOwn(props.map, next!)) return `“${next}” stands here already`;
              return replace(at, [next!, value]);
            }}
          />
          <span aria-hidden="true">→</span>
          <EntryField
            label={`${props.label}: for ${key}`}
            isLabelHidden
            text={String(value)}
            isNumber={props.isNumber === true}
            suggestions={props.valueNames}
            read={props.read}
            onEntry={(next) => replace(at, [key, next!])}
          />
          <RowButton label={`Take out ${key}`} sign="×" onPress={() => replace(at, null)} />
        </div>
      ))}
      <button
        type="button"
        className="button quiet small"
        onClick={() => {
          const name = missing ?? freeName(props.map);
          props.onMap({ ...props.map, [name]: props.fresh } as Record<string, T>);
        }}
      >
        Add {missing ?? 'a line'}
      </button>
    </div>
  );
}

function freeName(map: Readonly<Record<string, unknown>>): string {
  let count = 1;
  while (Object.hasOwn(map, `state ${count}`)) count += 1;
  return `state ${count}`;
}

/** Points of a curve as two columns. */
export function PointsGrid({
  label,
  points,
  units,
  onPoints,
}: {
  readonly label: string;
  readonly points: readonly (readonly [Exact, Exact])[];
  readonly units: readonly [string, string];
  readonly onPoints: (points: [Exact, Exact][]) => string | null;
}) {
  const set = (at: number, column: 0 | 1, value: Exact): string | null =>
    onPoints(
      points.map(([x, y], index) => (index !== at ? [x, y] : column === 0 ? [value, y] : [x, value]) as [Exact, Exact]),
    );
  return (
    <div className="mini-grid" role="group" aria-label={label}>
      <div className="mini-row soft" aria-hidden="true">
        <span className="number">{units[0] || 'from'}</span>
        <span />
        <span className="number">{units[1] || 'to'}</span>
        <span />
      </div>
      {points.map(([x, y], at) => (
        <div key={at} className="mini-row">
          <EntryField
            label={`Point ${at + 1}: from`}
            isLabelHidden
            isNumber
            text={String(x)}
            read={readExact}
            onEntry={(value) => set(at, 0, value!)}
          />
          <span aria-hidden="true">→</span>
          <EntryField
            label={`Point ${at + 1}: to`}
            isLabelHidden
            isNumber
            text={String(y)}
            read={readExact}
            onEntry={(value) => set(at, 1, value!)}
          />
          {points.length > 2 ? (
            <RowButton
              label={`Take out point ${at + 1}`}
              sign="×"
              onPress={() => onPoints(points.filter((_, index) => index !== at).map(([a, b]) => [a, b]))}
            />
          ) : (
            <span />
          )}
        </div>
      ))}
      <button
        type="button"
        className="button quiet small"
        onClick={() => {
          const [x, y] = points.at(-1)!;
          onPoints([...points.map(([a, b]) => [a, b] as [Exact, Exact]), [Number(x) + 1, y]]);
        }}
      >
        Add a point
      </button>
    </div>
  );
}

/** A list of values of one kind, one field each. */
export function ListGrid<T extends Exact>({
  label,
  list,
  least,
  suggestions,
  isNumber,
  read,
  fresh,
  onList,
}: {
  readonly label: string;
  readonly list: readonly T[];
  readonly least: number;
  readonly suggestions: readonly string[];
  readonly isNumber: boolean;
  readonly read: (text: string) => Entry<T>;
  readonly fresh: T;
  readonly onList: (list: T[]) => string | null;
}) {
  return (
    <div className="mini-grid list" role="group" aria-label={label}>
      {list.map((value, at) => (
        <div key={at} className="mini-row">
          <EntryField
            label={`${label} ${at + 1}`}
            isLabelHidden
            text={String(value)}
            isNumber={isNumber}
            suggestions={suggestions}
            read={read}
            onEntry={(next) => onList(list.map((old, index) => (index === at ? next! : old)))}
          />
          {list.length > least ? (
            <RowButton
              label={`Take out ${String(value)}`}
              sign="×"
              onPress={() => onList(list.filter((_, index) => index !== at))}
            />
          ) : null}
        </div>
      ))}
      <button type="button" className="button quiet small" onClick={() => onList([...list, fresh])}>
        Add
      </button>
    </div>
  );
}
