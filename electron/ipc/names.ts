/** What the shell tells the page unasked: HostEvent. */
export const EVENT_CHANNEL = 'crossloom:event';

/** The channel of one call of the host contract. */
export function channelOf(method: string): string {
  return `crossloom:call:${method}`;
}

/** What a call gives back; errors cross the bridge as words, never as objects with a stack. */
export type CallAnswer =
  | { readonly ok: true; readonly value: unknown }
  | { readonly ok: false; readonly message: string; readonly faults: readonly string[] };
