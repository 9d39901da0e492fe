/** Above this many parts a partition stays coarser; what it is asked about is then judged with all of them at once. */
const MAX_PARTS = 256;

/** Parts of `all` within which every one of the masks holds wholly or not at all. */
export function partition(all: bigint, masks: Iterable<bigint>): readonly bigint[] {
  let parts: bigint[] = [all];
  for (const mask of new Set(masks)) {
    if ((mask & all) === all || (mask & all) === 0n) continue;
    if (parts.length >= MAX_PARTS) break;
    parts = parts.flatMap((part) => {
      const inside = part & mask;
      return inside === 0n || inside === part ? [part] : [inside, part & ~mask];
    });
  }
  return parts;
}
