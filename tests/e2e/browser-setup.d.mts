export function findBrowser(): string | null;
export function ensureBrowser(): Promise<void>;
export function launchOptions(): { executablePath: string; args: string[] };
