const KEY = 'crossloom-name';

/** The name this machine's user last answered with; '' before. */
export function rememberedName(): string {
  try {
    return localStorage.getItem(KEY) ?? '';
  } catch {
    return '';
  }
}

export function rememberName(name: string): void {
  try {
    localStorage.setItem(KEY, name.trim());
  } catch {
    // Without storage the name is asked for again.
  }
}
