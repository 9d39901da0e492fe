import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** Whether a program of the machine can be run; checks that need one are skipped where it is not installed. */
export function canRun(program: string, ...args: readonly string[]): boolean {
  try {
    execFileSync(program, args, { stdio: 'ignore', timeout: 20_000 });
    return true;
  } catch {
    return false;
  }
}

/** Runs `use` with a fresh folder that is removed afterwards. */
export function inFolder<T>(use: (folder: string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), 'writers-'));
  try {
    return use(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** The text of each page of a PDF, by poppler's pdftotext. */
export function pageTexts(pdf: Uint8Array): readonly string[] {
  return inFolder((folder) => {
    const file = join(folder, 'a.pdf');
    writeFileSync(file, pdf);
    const text = execFileSync('pdftotext', ['-enc', 'UTF-8', '-layout', file, '-'], { maxBuffer: 1 << 28 }).toString(
      'utf8',
    );
    return text.split('\f').slice(0, -1);
  });
}

/** A word on a page, its box in points from the upper left. */
export interface PlacedWord {
  readonly page: number;
  readonly text: string;
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

export interface PlacedPages {
  readonly sizes: readonly { readonly width: number; readonly height: number }[];
  readonly words: readonly PlacedWord[];
}

/** Where every word of a PDF stands, by poppler's pdftotext -bbox. */
export function placedWords(pdf: Uint8Array): PlacedPages {
  return inFolder((folder) => {
    const file = join(folder, 'a.pdf');
    writeFileSync(file, pdf);
    const html = execFileSync('pdftotext', ['-enc', 'UTF-8', '-bbox', file, '-'], { maxBuffer: 1 << 28 }).toString(
      'utf8',
    );
    const sizes: { width: number; height: number }[] = [];
    const words: PlacedWord[] = [];
    const found =
      /<page width="([\d.]+)" height="([\d.]+)">|<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">([^<]*)<\/word>/g;
    for (const [, width, height, left, top, right, bottom, text] of html.matchAll(found)) {
      if (width !== undefined) sizes.push({ width: Number(width), height: Number(height) });
      else
        words.push({
          page: sizes.length - 1,
          text: text ?? '',
          left: Number(left),
          top: Number(top),
          right: Number(right),
          bottom: Number(bottom),
        });
    }
    return { sizes, words };
  });
}
