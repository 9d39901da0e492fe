/** How far the work is: needs met of needs. */
export function Progress({ met, needs }: { readonly met: number; readonly needs: number }) {
  const share = needs === 0 ? 1 : met / needs;
  return (
    <div className="progress">
      <div
        className="progress-bar"
        role="progressbar"
        aria-label="Needs met"
        aria-valuemin={0}
        aria-valuemax={needs}
        aria-valuenow={met}
        aria-valuetext={`${met} of ${needs} needs met`}
      >
        <div style={{ width: `${share * 100}%` }} />
      </div>
      <span>
        <strong>{met}</strong> of {needs} met
      </span>
    </div>
  );
}
