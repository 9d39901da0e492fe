// Finds a Chromium for the browser tests; on a Debian machine without one it installs the distribution's package.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';

const PLACES = [
  process.env.CROSSLOOM_CHROMIUM,
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
];

/** The browser's path, or null. */
export function findBrowser() {
  return PLACES.find((path) => path && existsSync(path)) ?? null;
}

/** Installs Debian's chromium when no browser is found; throws in words when that fails. */
export async function ensureBrowser() {
  if (findBrowser()) return;
  console.log('no browser found: installing the package chromium …');
  const options = { stdio: 'inherit', env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' } };
  spawnSync('apt-get', ['update', '-q'], options);
  spawnSync('apt-get', ['install', '-y', '-q', 'chromium'], options);
  if (!findBrowser()) throw new Error('the browser tests need Chromium: install it, or name it in CROSSLOOM_CHROMIUM');
}

/** Launch options that work as root on a machine without a network. */
export const launchOptions = () => ({
  executablePath: findBrowser(),
  args: [
    '--no-sandbox',
    '--disable-gpu',
    '--disable-quic',
    '--no-first-run',
    '--disable-background-networking',
    '--disable-component-update',
    '--disable-sync',
  ],
});
