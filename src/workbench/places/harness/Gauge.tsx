/** A value against its limit: figure, words and a bar; over the limit it says so. */
export function Gauge({
  id,
  title,
  value,
  of,
  share,
  was,
  isOver,
}: {
  readonly id: string;
  readonly title: string;
  readonly value: string;
  readonly of: string;
  /** Null: nothing to hold it against. */
  readonly share: number | null;
  readonly was: string;
  readonly isOver: boolean;
}) {
  return (
    <div className="gauge" data-result={id} data-over={isOver || undefined}>
      <dt>{title}</dt>
      <dd>
        <strong>{value}</strong> <span className="soft">{of}</span>
        {was === '' ? null : <span className="gauge-was"> {was}</span>}
        {isOver ? <span className="bad"> over the limit</span> : null}
        {share === null ? null : (
          <span className="gauge-bar" aria-hidden="true">
            <span style={{ width: `${Math.min(100, Math.max(0, share * 100))}%` }} />
          </span>
        )}
      </dd>
    </div>
  );
}
