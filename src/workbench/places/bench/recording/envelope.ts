/** Entries that one entry of the next level stands for. */
const FAN = 32;

/** Least and greatest of any stretch of values, in time that grows with its logarithm. NaN stands for no value. */
export interface Envelope {
  /**
   * Least and greatest value of the entries from `from` up to but not including `to`: in `low` and `high` afterwards.
   * Both are NaN when none of them has a value.
   */
  look(from: number, to: number): void;
  low: number;
  high: number;
}

interface Level {
  readonly low: Float64Array;
  readonly high: Float64Array;
}

/** Makes the envelope of values; they must not change afterwards. Takes a sixteenth of their memory in addition. */
export function createEnvelope(values: Float64Array): Envelope {
  const levels: Level[] = [{ low: values, high: values }];
  for (let below = levels[0]!; below.low.length > FAN; below = levels.at(-1)!) levels.push(levelAbove(below));

  const take = (low: number, high: number): void => {
    // A comparison with NaN is false: the first value found replaces it, and no value replaces nothing.
    if (!(envelope.low <= low) && low === low) envelope.low = low;
    if (!(envelope.high >= high) && high === high) envelope.high = high;
  };
  const takeAll = ({ low, high }: Level, from: number, to: number): void => {
    for (let index = from; index < to; index += 1) take(low[index]!, high[index]!);
  };
  const envelope: Envelope = {
    low: Number.NaN,
    high: Number.NaN,
    look(from, to) {
      envelope.low = Number.NaN;
      envelope.high = Number.NaN;
      let first = Math.max(0, from);
      let end = Math.min(values.length, to);
      for (let at = 0; first < end; at += 1) {
        const level = levels[at]!;
        const above = levels[at + 1];
        if (above === undefined || end - first <= 2 * FAN) {
          takeAll(level, first, end);
          return;
        }
        // The ragged ends here, whole blocks one level up.
        const firstBlock = Math.ceil(first / FAN);
        const endBlock = Math.floor(end / FAN);
        takeAll(level, first, firstBlock * FAN);
        takeAll(level, endBlock * FAN, end);
        first = firstBlock;
        end = endBlock;
      }
    },
  };
  return envelope;
}

function levelAbove(below: Level): Level {
  const count = Math.ceil(below.low.length / FAN);
  const low = new Float64Array(count).fill(Number.NaN);
  const high = new Float64Array(count).fill(Number.NaN);
  for (let block = 0; block < count; block += 1) {
    const end = Math.min(below.low.length, (block + 1) * FAN);
    for (let index = block * FAN; index < end; index += 1) {
      const least = below.low[index]!;
      const greatest = below.high[index]!;
      if (!(low[block]! <= least) && least === least) low[block] = least;
      if (!(high[block]! >= greatest) && greatest === greatest) high[block] = greatest;
    }
  }
  return { low, high };
}
