/** Colours of the tokens as a canvas takes them. */
export interface Ink {
  readonly ink: string;
  readonly soft: string;
  readonly line: string;
  readonly surface: string;
  readonly host: string;
  readonly donor: string;
  readonly delivered: string;
  readonly stale: string;
  readonly staleGround: string;
  readonly loss: string;
  readonly lossGround: string;
  readonly clip: string;
}

const TOKENS: Readonly<Record<keyof Ink, string>> = {
  ink: '--ink',
  soft: '--ink-soft',
  line: '--line',
  surface: '--surface',
  host: '--host-side',
  donor: '--donor-side',
  delivered: '--ink',
  stale: '--fix',
  staleGround: '--fix-soft',
  loss: '--stop',
  lossGround: '--stop-soft',
  clip: '--stop',
};

let known: Ink | null = null;
const listeners = new Set<() => void>();
let watching = false;

/** The colours as they stand; read from the page again when its look changes. */
export function loadInk(): Ink {
  if (known !== null) return known;
  const style = getComputedStyle(document.documentElement);
  known = Object.fromEntries(
    Object.entries(TOKENS).map(([name, token]) => [name, style.getPropertyValue(token).trim()]),
  ) as unknown as Ink;
  return known;
}

/** Tells when the look of the page has changed. Gives a function that stops it. */
export function watchInk(onChange: () => void): () => void {
  listeners.add(onChange);
  if (!watching) {
    watching = true;
    const changed = (): void => {
      known = null;
      for (const listener of listeners) listener();
    };
    new MutationObserver(changed).observe(document.documentElement, {
      attributes: true,
      attributeFilter: ['data-theme', 'style'],
    });
    matchMedia('(prefers-color-scheme: dark)').addEventListener('change', changed);
  }
  return () => listeners.delete(onChange);
}
