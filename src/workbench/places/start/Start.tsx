import { usePlaceMemory } from '../../parts/place-memory.ts';
import '../../parts/place.css';
import { Home } from './Home.tsx';
import { NewPairing } from './new-pairing/NewPairing.tsx';
import './start.css';
import { FIRST_VIEW, type StartView } from './view.ts';

/** Where work begins: a map, a recent one, the sample, or a new pairing. */
export default function Start() {
  const [view, change] = usePlaceMemory<StartView>('start', () => FIRST_VIEW);
  return view.shows === 'home' ? <Home /> : <NewPairing onLeave={() => change({ shows: 'home' })} />;
}
