import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';

// The page of the workbench: the same files for the Electron window, the loopback server and the tests.
export default defineConfig({
  root: 'src/workbench',
  base: './',
  plugins: [react()],
  worker: { format: 'es' },
  build: {
    outDir: '../../dist/page',
    emptyOutDir: true,
    target: 'es2023',
    sourcemap: false,
    chunkSizeWarningLimit: 4000,
    modulePreload: { polyfill: false },
  },
});
