import type { Host } from '../../host/interface/contract.ts';
import { electronHost } from './electron-client.ts';
import { loopbackHost } from './loopback-client.ts';

/** The machine, however this page is held. */
export function connectHost(): Host {
  return window.crossloom ? electronHost(window.crossloom) : loopbackHost();
}
