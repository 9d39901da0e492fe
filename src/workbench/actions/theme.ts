import type { WorkbenchState, WorkbenchStore } from '../state/store.ts';

const KEY = 'crossloom-look';
const THEMES: readonly WorkbenchState['theme'][] = ['system', 'light', 'dark', 'contrast'];

/** Remembers theme and zoom and puts them on the page. */
export function keepTheme(store: WorkbenchStore): void {
  try {
    const kept = JSON.parse(localStorage.getItem(KEY) ?? '{}') as { theme?: unknown; zoom?: unknown };
    const theme = THEMES.find((name) => name === kept.theme);
    const zoom = typeof kept.zoom === 'number' && kept.zoom >= 0.5 && kept.zoom <= 3 ? kept.zoom : 1;
    store.setState({ zoom, ...(theme ? { theme } : {}) });
  } catch {
    localStorage.removeItem(KEY);
  }
  const apply = ({ theme, zoom }: WorkbenchState): void => {
    const root = document.documentElement;
    if (theme === 'system') delete root.dataset['theme'];
    else root.dataset['theme'] = theme;
    root.style.fontSize = `${zoom * 100}%`;
  };
  apply(store.getState());
  store.subscribe((state, before) => {
    if (state.theme === before.theme && state.zoom === before.zoom) return;
    apply(state);
    localStorage.setItem(KEY, JSON.stringify({ theme: state.theme, zoom: state.zoom }));
  });
}

export function nextTheme(store: WorkbenchStore): void {
  store.setState(({ theme }) => ({ theme: THEMES[(THEMES.indexOf(theme) + 1) % THEMES.length]! }));
}

export function zoomBy(store: WorkbenchStore, factor: number): void {
  store.setState(({ zoom }) => ({
    zoom: factor === 0 ? 1 : Math.min(2, Math.max(0.6, Math.round(zoom * factor * 100) / 100)),
  }));
}
