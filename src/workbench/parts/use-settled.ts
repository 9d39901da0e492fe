import { useDeferredValue, useEffect, useRef, useState } from 'react';

/** Changes that follow each other faster than this, in ms, are waited out. */
const QUICK = 140;

/**
 * A value as it stands once it has settled: a single change shows at once, a row of quick ones (a key held down) only when they
 * stop. Panels that are dear to draw follow the selection by it, so that walking stays smooth;
 * with `afterMs` one of them draws after another.
 */
export function useSettled<T>(value: T, afterMs = 0): T {
  const [settled, setSettled] = useState(value);
  const lastAt = useRef(-Infinity);
  useEffect(() => {
    const now = performance.now();
    const isQuick = now - lastAt.current < QUICK;
    lastAt.current = now;
    const timer = setTimeout(() => setSettled(value), afterMs + (isQuick ? QUICK : 0));
    return () => clearTimeout(timer);
  }, [value, afterMs]);
  return useDeferredValue(settled);
}
