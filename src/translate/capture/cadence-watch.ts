/** What a frame turned out to be on the grid of its cycle, and how many before it are missing. */
export interface OnGrid {
  readonly missing: number;
  /** When the first of the missing was due. */
  readonly missingUs: number;
  /** By how much it came after its time; 0: in time. */
  readonly lateUs: number;
  /** It came although none was due. */
  readonly extra: boolean;
  /** One more may be missing, or this one is late itself: the next frame tells. */
  readonly doubtful: boolean;
  /** The one in doubt before has come late. */
  readonly lateBefore: { readonly timeUs: number; readonly byUs: number } | null;
}

/** Frames of one cyclic message on the grid of its cycle. Clocks drift: the grid follows slowly. */
export interface Grid {
  frame(timeUs: number): OnGrid;
  /** Frames that should have come by now and did not, since this was last asked; their first time. */
  overdue(timeUs: number): { readonly count: number; readonly sinceUs: number } | null;
  /** The message may have been silent by right: the next frame starts anew. */
  reset(): void;
  /** The next frame is due at this moment. */
  start(dueUs: number): void;
  readonly running: boolean;
}

const FOLLOW = 0.1;

/** `toleranceUs`: how far a frame may lie off the grid. */
export function createGrid(cycleUs: number, toleranceUs: number): Grid {
  const near = Math.min(toleranceUs, cycleUs * 0.45);
  const far = cycleUs * 0.45;
  let dueUs: number | null = null;
  /** A frame off the grid that came after a gap of one: late itself if the next is in its own time. */
  let doubtful: { readonly timeUs: number; readonly byUs: number; readonly dueUs: number } | null = null;
  return {
    get running() {
      return dueUs !== null;
    },
    start(firstUs) {
      dueUs = firstUs;
      doubtful = null;
    },
    reset() {
      dueUs = null;
      doubtful = null;
    },
    overdue(timeUs) {
      if (dueUs === null || timeUs <= dueUs + cycleUs + near) return null;
      const sinceUs = doubtful?.dueUs ?? dueUs;
      const late = Math.floor((timeUs - near - dueUs) / cycleUs);
      dueUs += late * cycleUs;
      const count = late + (doubtful === null ? 0 : 1);
      doubtful = null;
      return { count, sinceUs };
    },
    frame(timeUs) {
      const none: OnGrid = { missing: 0, missingUs: 0, lateUs: 0, extra: false, doubtful: false, lateBefore: null };
      if (dueUs === null) {
        dueUs = timeUs + cycleUs;
        return none;
      }
      const before = doubtful;
      doubtful = null;
      if (timeUs < dueUs - far) {
        // Where the frame before it came late, this one is in its own time and the grid is one ahead.
        if (before !== null && Math.abs(timeUs - (dueUs - cycleUs)) <= far) return { ...none, lateBefore: before };
        doubtful = before;
        return { ...none, extra: true, doubtful: before !== null };
      }
      const missingUs = before?.dueUs ?? dueUs;
      const firstUs = dueUs;
      let missing = 0;
      while (timeUs - dueUs > cycleUs - far) {
        missing += 1;
        dueUs += cycleUs;
      }
      const off = timeUs - dueUs;
      if (missing === 1 && off < -near) {
        missing = 0;
        doubtful = { timeUs, byUs: timeUs - firstUs, dueUs: firstUs };
      }
      dueUs += cycleUs + (Math.abs(off) <= near ? off * FOLLOW : 0);
      return {
        ...none,
        missing: missing + (before === null ? 0 : 1),
        missingUs,
        lateUs: off > near ? off : 0,
        doubtful: doubtful !== null,
      };
    },
  };
}
