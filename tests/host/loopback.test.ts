import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, unlinkSync, writeFileSync } from 'node:fs';
import { request } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startLoopback, type LoopbackServer } from '../../src/host/index.ts';
import { sha256Hex } from '../../src/model/index.ts';

const folder = mkdtempSync(join(tmpdir(), 'crossloom-loopback-'));
const opened = join(folder, 'opened');
let server: LoopbackServer;

beforeAll(async () => {
  mkdirSync(join(opened, 'inner'), { recursive: true });
  mkdirSync(join(folder, 'page'));
  writeFileSync(join(folder, 'page', 'index.html'), '<!doctype html><title>page</title>');
  writeFileSync(join(folder, 'secret.json'), '{"secret":1}');
  writeFileSync(join(opened, 'a.map.json'), '{}\n');
  symlinkSync(folder, join(opened, 'way-out'));
  server = await startLoopback({
    version: '0',
    root: opened,
    opens: null,
    sample: null,
    stateFolder: join(folder, 'state'),
    today: () => '2026-01-31',
    nowMs: () => 1,
    renderSpec: async () => [],
    pageFolder: join(folder, 'page'),
    port: 0,
  });
});
afterAll(async () => {
  await server.close();
  rmSync(folder, { recursive: true, force: true });
});

interface Answer {
  readonly status: number;
  readonly body: string;
  readonly headers: NodeJS.Dict<string | string[]>;
}

/** A raw request: `fetch` would not let a test lie about Host and Origin. */
function ask(method: string, path: string, headers: Record<string, string> = {}, body?: string): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const asked = request({ host: '127.0.0.1', port: server.port, method, path, headers }, (response) => {
      let text = '';
      response.setEncoding('utf8');
      response.on('data', (chunk: string) => (text += chunk));
      response.on('end', () => resolve({ status: response.statusCode!, body: text, headers: response.headers }));
    });
    asked.on('error', reject);
    asked.end(body);
  });
}

const call = async (
  method: string,
  input: unknown,
  headers: Record<string, string> = {},
): Promise<{ status: number; value: unknown }> => {
  const { status, body } = await ask(
    'POST',
    `/api/${method}`,
    { 'x-crossloom-token': server.token, 'content-type': 'application/json', ...headers },
    JSON.stringify(input),
  );
  return { status, value: body.startsWith('{') ? (JSON.parse(body) as unknown) : body };
};

describe('the loopback server', () => {
  it('serves the page with a strict policy', async () => {
    const { status, headers } = await ask('GET', '/');
    expect(status).toBe(200);
    expect(headers['content-security-policy']).toContain("default-src 'none'");
    expect(headers['content-security-policy']).not.toContain('unsafe-eval');
  });

  it('refuses calls without the token, from other pages, and under other names', async () => {
    expect((await call('session', {}, { 'x-crossloom-token': 'x'.repeat(server.token.length) })).status).toBe(401);
    expect((await ask('POST', '/api/session', { 'content-type': 'application/json' }, '{}')).status).toBe(401);
    expect((await call('session', {}, { origin: 'http://elsewhere.example' })).status).toBe(403);
    expect((await call('session', {}, { host: `elsewhere.example:${server.port}` })).status).toBe(403);
    expect((await call('session', {}, { origin: `http://127.0.0.1:${server.port}` })).status).toBe(200);
  });

  it.each(['../secret.json', 'way-out/secret.json', '/etc/passwd', 'inner/../../secret.json', 'a\0b'])(
    'keeps %j out of reach',
    async (path) => {
      const { status, value } = await call('readText', { path });
      expect(status).toBe(422);
      expect(JSON.stringify(value)).not.toContain('"secret"');
      expect((await call('writeText', { path: `${path}.map.json`, text: '{}', expects: null })).status).toBe(422);
    },
  );

  it.each(['/../secret.json', '/%2e%2e/secret.json', '/..%2fsecret.json', '/%00'])(
    'serves no file outside the page: %s',
    async (path) => {
      expect((await ask('GET', path)).status).toBeGreaterThanOrEqual(400);
    },
  );

  it('refuses unknown calls and wrong input in words', async () => {
    expect((await call('constructor', {})).status).toBe(422);
    expect((await call('readText', { path: 5 })).status).toBe(422);
    expect(
      (
        await ask(
          'POST',
          '/api/session',
          { 'x-crossloom-token': server.token, 'content-type': 'application/json' },
          '{',
        )
      ).status,
    ).toBe(400);
  });

  it('lists the folder without hidden files', async () => {
    const { value } = await call('listFolder', { folder: '.' });
    expect(value).toMatchObject({ folder: '.', parent: null });
    expect(
      (value as { entries: { name: string; kind: string }[] }).entries.map(({ name, kind }) => [name, kind]),
    ).toEqual([
      ['inner', 'folder'],
      ['way-out', 'folder'],
      ['a.map.json', 'map'],
    ]);
  });

  it('reads a file part by part, to its end, and nothing outside the folder', async () => {
    writeFileSync(join(opened, 'inner', 'long.log'), 'abcdefghij');
    const parts: string[] = [];
    for (let from = 0; ; from += 4) {
      const { value } = await call('readPart', { path: 'inner/long.log', from, most: 4 });
      const { base64, bytes } = value as { base64: string; bytes: number };
      expect(bytes).toBe(10);
      if (base64 === '') break;
      parts.push(Buffer.from(base64, 'base64').toString());
    }
    expect(parts).toEqual(['abcd', 'efgh', 'ij']);
    for (const path of ['../secret.json', 'way-out/secret.json', 'inner', 'none.log'])
      expect((await call('readPart', { path, from: 0, most: 4 })).status, path).toBe(422);
    expect((await call('readPart', { path: 'inner/long.log', from: -1, most: 4 })).status).toBe(422);
    expect((await call('readPart', { path: 'inner/long.log', from: 0, most: 1e9 })).status).toBe(422);
    unlinkSync(join(opened, 'inner', 'long.log'));
  });

  it('saves only over what the page last saw', async () => {
    const { value } = await call('readText', { path: 'a.map.json' });
    const seen = (value as { sha256: string }).sha256;
    writeFileSync(join(opened, 'a.map.json'), '{"theirs":1}\n');
    const conflict = await call('writeText', { path: 'a.map.json', text: '{"ours":1}\n', expects: seen });
    expect(conflict.value).toEqual({ saved: false, text: '{"theirs":1}\n', sha256: sha256Hex('{"theirs":1}\n') });
    expect(readFileSync(join(opened, 'a.map.json'), 'utf8')).toBe('{"theirs":1}\n');
    const saved = await call('writeText', {
      path: 'a.map.json',
      text: '{"ours":1}\n',
      expects: sha256Hex('{"theirs":1}\n'),
    });
    expect(saved.value).toEqual({ saved: true, sha256: sha256Hex('{"ours":1}\n') });
    expect(readFileSync(join(opened, 'a.map.json'), 'utf8')).toBe('{"ours":1}\n');
  });

  it('tells the page of changes from outside, not of its own', async () => {
    await call('watch', { paths: ['a.map.json'] });
    const heard: string[] = [];
    const stream = request(
      { host: '127.0.0.1', port: server.port, path: '/api/events', headers: { 'x-crossloom-token': server.token } },
      (response) => {
        response.setEncoding('utf8');
        response.on('data', (chunk: string) => heard.push(...chunk.split('\n').filter((line) => line !== '')));
      },
    );
    stream.on('error', () => undefined);
    stream.end();
    const { value } = await call('readText', { path: 'a.map.json' });
    await call('writeText', { path: 'a.map.json', text: '{"own":1}\n', expects: (value as { sha256: string }).sha256 });
    await new Promise((resolve) => setTimeout(resolve, 400));
    expect(heard).toEqual([]);
    writeFileSync(join(opened, 'a.map.json'), '{"outside":1}\n');
    await expect
      .poll(() => heard.map((line) => JSON.parse(line) as unknown), { timeout: 5000 })
      .toEqual([{ kind: 'changed-outside', path: 'a.map.json', sha256: sha256Hex('{"outside":1}\n') }]);
    stream.destroy();
  });

  it('tells at once of a file that is no longer what the page saw when the watch begins', async () => {
    const heard: string[] = [];
    const stream = request(
      { host: '127.0.0.1', port: server.port, path: '/api/events', headers: { 'x-crossloom-token': server.token } },
      (response) => {
        response.setEncoding('utf8');
        response.on('data', (chunk: string) => heard.push(...chunk.split('\n').filter((line) => line !== '')));
      },
    );
    stream.on('error', () => undefined);
    stream.end();
    const { value } = await call('readText', { path: 'a.map.json' });
    writeFileSync(join(opened, 'a.map.json'), '{"between":1}\n');
    await call('watch', { paths: ['a.map.json'], seen: [(value as { sha256: string }).sha256] });
    await expect
      .poll(() => heard.map((line) => JSON.parse(line) as unknown), { timeout: 5000 })
      .toEqual([{ kind: 'changed-outside', path: 'a.map.json', sha256: sha256Hex('{"between":1}\n') }]);
    await call('watch', { paths: ['a.map.json'], seen: [sha256Hex('{"between":1}\n')] });
    await new Promise((resolve) => setTimeout(resolve, 300));
    expect(heard).toHaveLength(1);
    stream.destroy();
  });

  it('keeps unsaved work in a journal and drops it', async () => {
    await call('writeJournal', { path: 'a.map.json', map: 'm', host: 'h', donor: 'd' });
    expect((await call('readJournals', {})).value).toEqual({
      entries: [{ path: 'a.map.json', savedMs: 1, map: 'm', host: 'h', donor: 'd' }],
    });
    await call('dropJournal', { path: 'a.map.json' });
    expect((await call('readJournals', {})).value).toEqual({ entries: [] });
  });
});
