const isMac = typeof navigator !== 'undefined' && /Mac/.test(navigator.platform);

/** `Mod+Shift+S` as this machine's keyboard says it. */
export function keysText(keys: string): string {
  return keys.replace('Mod', isMac ? '⌘' : 'Ctrl').replace(/\+(?=[^+])/g, isMac ? ' ' : '+');
}
