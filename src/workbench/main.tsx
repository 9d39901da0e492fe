import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import './tokens.css';
import './base.css';
import { begin } from './actions/begin.ts';
import { connectHost } from './host/index.ts';
import { App } from './shell/App.tsx';
import { StoreContext, createWorkbenchStore } from './state/store.ts';

const store = createWorkbenchStore(connectHost());
createRoot(document.getElementById('root')!).render(
  <StrictMode>
    <StoreContext.Provider value={store}>
      <App />
    </StoreContext.Provider>
  </StrictMode>,
);
void begin(store);
