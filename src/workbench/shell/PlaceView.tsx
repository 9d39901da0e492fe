import { Suspense, lazy, type ComponentType, type LazyExoticComponent } from 'react';
import type { PlaceId } from '../places/index.ts';
import { useWorkbench } from '../state/store.ts';

type View = LazyExoticComponent<ComponentType>;

/** Each place is loaded when it is first gone to. */
const VIEWS: Readonly<Record<PlaceId, View>> = {
  start: lazy(() => import('../places/start/Start.tsx')),
  platforms: lazy(() => import('../places/platforms/Platforms.tsx')),
  loom: lazy(() => import('../places/loom/Loom.tsx')),
  routes: lazy(() => import('../places/routes/Routes.tsx')),
  worklist: lazy(() => import('../places/worklist/Worklist.tsx')),
  findings: lazy(() => import('../places/findings/Findings.tsx')),
  harness: lazy(() => import('../places/harness/Harness.tsx')),
  bench: lazy(() => import('../places/bench/Bench.tsx')),
  review: lazy(() => import('../places/review/Review.tsx')),
  'hand-over': lazy(() => import('../places/hand-over/HandOver.tsx')),
  text: lazy(() => import('../places/text/TextPlace.tsx')),
};

export function PlaceView() {
  const place = useWorkbench((state) => state.place);
  const ready = useWorkbench((state) => state.session !== null);
  const Place = VIEWS[place];
  if (!ready)
    return (
      <p className="loading" data-loading>
        Starting …
      </p>
    );
  return (
    <Suspense
      fallback={
        <p className="loading" data-loading>
          Loading …
        </p>
      }
    >
      <Place />
    </Suspense>
  );
}
