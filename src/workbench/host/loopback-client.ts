import {
  HostError,
  type Host,
  type HostEvent,
  type HostInput,
  type HostMethod,
  type HostOutput,
} from '../../host/interface/contract.ts';

const TOKEN_KEY = 'crossloom-token';

/** The token of the address the terminal printed; kept for reloads of this tab and taken out of the address bar. */
function takeToken(): string {
  const given = new URLSearchParams(location.hash.slice(1)).get('token');
  if (given !== null) {
    sessionStorage.setItem(TOKEN_KEY, given);
    history.replaceState(null, '', location.pathname);
  }
  return sessionStorage.getItem(TOKEN_KEY) ?? '';
}

/** Reaches the machine through the loopback server. */
export function loopbackHost(): Host {
  const token = takeToken();
  return {
    async call<M extends HostMethod>(method: M, input: HostInput<M>): Promise<HostOutput<M>> {
      const response = await fetch(`/api/${method}`, {
        method: 'POST',
        headers: { 'content-type': 'application/json', 'x-crossloom-token': token },
        body: JSON.stringify(input),
      }).catch(() => {
        throw new HostError('the local server does not answer: start it again with npm start, then reload this page');
      });
      const text = await response.text();
      if (response.ok) return JSON.parse(text) as HostOutput<M>;
      if (response.headers.get('content-type')?.startsWith('application/json')) {
        const { message, faults } = JSON.parse(text) as { message: string; faults: string[] };
        throw new HostError(message, faults);
      }
      throw new HostError(text.trim());
    },
    listen(onEvent) {
      const stop = new AbortController();
      void followEvents(token, onEvent, stop.signal);
      return () => stop.abort();
    },
  };
}

async function followEvents(token: string, onEvent: (event: HostEvent) => void, signal: AbortSignal): Promise<void> {
  while (!signal.aborted) {
    try {
      const response = await fetch('/api/events', { headers: { 'x-crossloom-token': token }, signal });
      if (response.status === 401 || response.body === null) return;
      const reader = response.body.pipeThrough(new TextDecoderStream()).getReader();
      let rest = '';
      for (;;) {
        const { done, value } = await reader.read();
        if (done) break;
        const lines = (rest + value).split('\n');
        rest = lines.pop() ?? '';
        for (const line of lines) if (line !== '') onEvent(JSON.parse(line) as HostEvent);
      }
    } catch {
      // The server went away or the page is leaving: try again unless it is the latter.
    }
    await new Promise((resolve) => setTimeout(resolve, 2000));
  }
}
