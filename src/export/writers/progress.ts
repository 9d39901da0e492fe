/** What a long export is at: sections set, then pages written. */
export interface ExportProgress {
  readonly doing: 'sections' | 'pages';
  readonly done: number;
  readonly total: number;
}

/**
 * How whoever asked for an export follows it and calls it off. Both are asked at points where other work may run too; neither can
 * change what is written.
 */
export interface ExportWatch {
  readonly onProgress?: (progress: ExportProgress) => void;
  readonly isCancelled?: () => boolean;
  /** Lets other work run, so that the wish to cancel can arrive; `Promise.resolve` does not. */
  readonly breathe?: () => Promise<void>;
}

/** Thrown when an export was called off; nothing was written. */
export class ExportCancelled extends Error {
  constructor() {
    super('The export was cancelled; nothing was written.');
    this.name = 'ExportCancelled';
  }
}

/** Tells how far it is, lets other work run and stops when that is wanted. @throws ExportCancelled. */
export async function step(watch: ExportWatch, progress: ExportProgress): Promise<void> {
  watch.onProgress?.(progress);
  await watch.breathe?.();
  if (watch.isCancelled?.()) throw new ExportCancelled();
}
