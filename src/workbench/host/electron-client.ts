import {
  HostError,
  type Host,
  type HostEvent,
  type HostInput,
  type HostMethod,
  type HostOutput,
} from '../../host/interface/contract.ts';

/** What the preload script puts into the page's world. */
export interface ElectronBridge {
  call(
    method: string,
    input: unknown,
  ): Promise<{ ok: true; value: unknown } | { ok: false; message: string; faults: string[] }>;
  listen(onEvent: (event: HostEvent) => void): () => void;
  /** Where a file dropped on the window lies; a shell without it leaves the page to look for it. */
  pathOf?(file: File): string;
}

declare global {
  interface Window {
    readonly crossloom?: ElectronBridge;
  }
}

/** Reaches the machine through Electron's channels. */
export function electronHost(bridge: ElectronBridge): Host {
  return {
    async call<M extends HostMethod>(method: M, input: HostInput<M>): Promise<HostOutput<M>> {
      const answer = await bridge.call(method, input);
      if (!answer.ok) throw new HostError(answer.message, answer.faults);
      return answer.value as HostOutput<M>;
    },
    listen: (onEvent) => bridge.listen(onEvent),
  };
}
