import { randomBytes, timingSafeEqual } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname, join, normalize, sep } from 'node:path';
import { UnusableInput } from '../files/unusable-input.ts';
import type { HostEvent } from '../interface/contract.ts';
import { CONTENT_SECURITY_POLICY } from './policy.ts';
import { createHostService, type HostOptions, type HostService } from '../service/host-service.ts';

/** Calls carry whole documents. */
const MAX_BODY_BYTES = 600 * 1024 * 1024;

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.woff2': 'font/woff2',
  '.ttf': 'font/ttf',
  '.wasm': 'application/wasm',
};

export interface LoopbackServer {
  /** The address to open, with its token. */
  readonly url: string;
  readonly port: number;
  readonly token: string;
  close(): Promise<void>;
}

export interface LoopbackOptions extends Omit<HostOptions, 'emit' | 'shell'> {
  /** Folder of the built page. */
  readonly pageFolder: string;
  /** 0: any free port. */
  readonly port: number;
}

/**
 * Serves the workbench on 127.0.0.1. Only a page that holds the random token may call; the Host header must be this
 * address (no rebound names) and the Origin, when there is one, this page.
 */
export async function startLoopback(options: LoopbackOptions): Promise<LoopbackServer> {
  const token = randomBytes(24).toString('base64url');
  const listeners = new Set<ServerResponse>();
  const emit = (event: HostEvent): void => {
    for (const response of listeners) response.write(`${JSON.stringify(event)}\n`);
  };
  const service = createHostService({ ...options, shell: 'loopback', emit });
  const server = createServer((request, response) => {
    answer({
      request,
      response,
      options,
      service,
      token,
      listeners,
      port: (server.address() as AddressInfo).port,
    }).catch((error: unknown) => {
      if (!response.headersSent) refuse(response, 500, error instanceof Error ? error.message : 'the request failed');
      else response.destroy();
    });
  });
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(options.port, '127.0.0.1', resolve);
  });
  const { port } = server.address() as AddressInfo;
  return {
    url: `http://127.0.0.1:${port}/#token=${token}`,
    port,
    token,
    close: async () => {
      service.close();
      for (const response of listeners) response.end();
      server.closeAllConnections();
      await new Promise<void>((resolve) => server.close(() => resolve()));
    },
  };
}

interface Exchange {
  readonly request: IncomingMessage;
  readonly response: ServerResponse;
  readonly options: LoopbackOptions;
  readonly service: HostService;
  readonly token: string;
  readonly listeners: Set<ServerResponse>;
  readonly port: number;
}

async function answer(exchange: Exchange): Promise<void> {
  const { request, response, port } = exchange;
  const ownHosts = [`127.0.0.1:${port}`, `localhost:${port}`];
  if (!ownHosts.includes(request.headers.host ?? '')) return refuse(response, 403, 'this address is not served here');
  const { origin } = request.headers;
  if (origin !== undefined && !ownHosts.some((own) => origin === `http://${own}`))
    return refuse(response, 403, 'other pages may not call');
  const { pathname } = new URL(request.url ?? '/', `http://127.0.0.1:${port}`);
  if (pathname.startsWith('/api/')) return callApi(exchange, pathname.slice('/api/'.length));
  if (request.method !== 'GET' && request.method !== 'HEAD') return refuse(response, 405, 'only GET is answered here');
  return servePage(exchange, pathname);
}

async function callApi({ request, response, service, token, listeners }: Exchange, name: string): Promise<void> {
  if (!sameToken(request.headers['x-crossloom-token'], token))
    return refuse(response, 401, 'the token is missing or wrong: open the address that the terminal printed');
  if (name === 'events' && request.method === 'GET') {
    response.writeHead(200, { 'content-type': 'application/x-ndjson', 'cache-control': 'no-store' });
    response.write('\n');
    listeners.add(response);
    response.on('close', () => listeners.delete(response));
    return;
  }
  if (request.method !== 'POST') return refuse(response, 405, 'calls are made with POST');
  if (request.headers['content-type'] !== 'application/json') return refuse(response, 415, 'calls are made in JSON');
  try {
    const result = await service.call(name, JSON.parse((await bodyOf(request)).toString('utf8')));
    json(response, 200, result);
  } catch (error) {
    if (error instanceof UnusableInput) json(response, 422, { message: error.message, faults: error.faults });
    else if (error instanceof SyntaxError) json(response, 400, { message: 'the call is not JSON', faults: [] });
    else json(response, 500, { message: error instanceof Error ? error.message : 'the call failed', faults: [] });
  }
}

/** Compares in constant time. */
function sameToken(given: string | string[] | undefined, token: string): boolean {
  if (typeof given !== 'string' || given.length !== token.length) return false;
  return timingSafeEqual(Buffer.from(given), Buffer.from(token));
}

async function bodyOf(request: IncomingMessage): Promise<Buffer> {
  const chunks: Buffer[] = [];
  let bytes = 0;
  for await (const chunk of request) {
    bytes += (chunk as Buffer).length;
    if (bytes > MAX_BODY_BYTES) throw new UnusableInput('the call is too large');
    chunks.push(chunk as Buffer);
  }
  return Buffer.concat(chunks);
}

function json(response: ServerResponse, status: number, value: unknown): void {
  response.writeHead(status, {
    'content-type': 'application/json; charset=utf-8',
    'cache-control': 'no-store',
    'x-content-type-options': 'nosniff',
  });
  response.end(JSON.stringify(value));
}

function refuse(response: ServerResponse, status: number, message: string): void {
  response.writeHead(status, { 'content-type': 'text/plain; charset=utf-8', 'x-content-type-options': 'nosniff' });
  response.end(`${message}\n`);
}

async function servePage({ request, response, options }: Exchange, pathname: string): Promise<void> {
  const name = normalize(decodeURIComponent(pathname === '/' ? '/index.html' : pathname));
  const type = TYPES[extname(name)];
  const path = join(options.pageFolder, name);
  if (type === undefined || !path.startsWith(options.pageFolder + sep))
    return refuse(response, 404, 'there is no such page');
  const accepts = String(request.headers['accept-encoding'] ?? '');
  const compressed = accepts.includes('br') ? await readFile(`${path}.br`).catch(() => null) : null;
  const content = compressed ?? (await readFile(path).catch(() => null));
  if (content === null) return refuse(response, 404, 'there is no such page');
  response.writeHead(200, {
    'content-type': type,
    'content-length': content.length,
    ...(compressed ? { 'content-encoding': 'br' } : {}),
    'content-security-policy': CONTENT_SECURITY_POLICY,
    'x-content-type-options': 'nosniff',
    'referrer-policy': 'no-referrer',
    'cross-origin-opener-policy': 'same-origin',
    'cache-control': name.startsWith(`${sep}assets${sep}`) ? 'public, max-age=31536000, immutable' : 'no-cache',
    vary: 'accept-encoding',
  });
  response.end(request.method === 'HEAD' ? undefined : content);
}
