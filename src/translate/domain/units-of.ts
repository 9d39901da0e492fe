import { type Unit, findUnit } from '../../units/index.ts';

const known = new Map<string, Unit | null>();
/** Documents hold few unit texts; hostile ones must not fill the memory. */
const MOST_KEPT = 5_000;

/** The unit a document's text names, or null when it is empty, ambiguous or unknown. */
export function unitOf(text: string): Unit | null {
  const kept = known.get(text);
  if (kept !== undefined) return kept;
  const unit = findUnit(text)?.unit ?? null;
  if (known.size < MOST_KEPT) known.set(text, unit);
  return unit;
}
