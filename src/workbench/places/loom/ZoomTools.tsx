interface ZoomToolsProps {
  readonly zoom: number;
  readonly onZoom: (zoom: number) => void;
  readonly onFit: () => void;
}

const STEP = 1.2;

/** Zoom of the cloth, over its corner. Ctrl and the wheel do the same. */
export function ZoomTools({ zoom, onZoom, onFit }: ZoomToolsProps) {
  return (
    <div className="zoom-tools" role="toolbar" aria-label="Zoom of the cloth">
      <button type="button" className="button small" aria-label="Zoom out" onClick={() => onZoom(zoom / STEP)}>
        −
      </button>
      <button type="button" className="button small zoom-figure" title="Back to full size" onClick={() => onZoom(1)}>
        {Math.round(zoom * 100)} %
      </button>
      <button type="button" className="button small" aria-label="Zoom in" onClick={() => onZoom(zoom * STEP)}>
        +
      </button>
      <button type="button" className="button small" title="The whole cloth in the view" onClick={onFit}>
        Fit
      </button>
    </div>
  );
}
