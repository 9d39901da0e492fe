import { net, protocol } from 'electron';
import { extname, join, normalize, sep } from 'node:path';
import { pathToFileURL } from 'node:url';
import { CONTENT_SECURITY_POLICY } from '../../src/host/loopback/policy.ts';
import { PAGE_FOLDER } from './places.ts';

/** The page's own scheme: it cannot read other files, and no web page can frame or script it. */
export const SCHEME = 'crossloom';
export const PAGE_ORIGIN = `${SCHEME}://workbench`;

const SERVED = new Set(['.html', '.js', '.css', '.json', '.svg', '.png', '.woff2', '.ttf']);

/** Must run before the program is ready. */
export function registerScheme(): void {
  protocol.registerSchemesAsPrivileged([
    { scheme: SCHEME, privileges: { standard: true, secure: true, supportFetchAPI: true, codeCache: true } },
  ]);
}

/** The file a page address names; null when it names none of the page's own. */
export function pageFile(url: string): string | null {
  const { protocol: scheme, host, pathname } = new URL(url);
  if (scheme !== `${SCHEME}:` || host !== 'workbench') return null;
  const name = normalize(decodeURIComponent(pathname === '/' ? '/index.html' : pathname));
  const path = join(PAGE_FOLDER, name);
  return SERVED.has(extname(name)) && path.startsWith(PAGE_FOLDER + sep) && !name.includes('\0') ? path : null;
}

export function serveScheme(): void {
  protocol.handle(SCHEME, async (request) => {
    const path = pageFile(request.url);
    if (path === null || request.method !== 'GET') return new Response('there is no such page', { status: 404 });
    const file = await net.fetch(pathToFileURL(path).href);
    const headers = new Headers(file.headers);
    headers.set('content-security-policy', CONTENT_SECURITY_POLICY);
    headers.set('x-content-type-options', 'nosniff');
    return new Response(file.body, { status: file.status, headers });
  });
}
