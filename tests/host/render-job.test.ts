import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { createHostService, renderSpecRequest } from '../../src/host/index.ts';
import type { HostEvent } from '../../src/host/interface/contract.ts';

const folder = mkdtempSync(join(tmpdir(), 'crossloom-render-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const sample = (name: string): string => readFileSync(resolve(import.meta.dirname, '../../sample-maps', name), 'utf8');

/** A service that writes real documents of the sample, and what it told unasked. */
function service(onEvent: (event: HostEvent) => void = () => undefined) {
  const told: HostEvent[] = [];
  const host = createHostService({
    shell: 'loopback',
    version: '0',
    root: folder,
    opens: null,
    sample: null,
    stateFolder: join(folder, 'state'),
    today: () => '2026-01-31',
    nowMs: () => 1,
    emit: (event) => {
      told.push(event);
      onEvent(event);
    },
    renderSpec: (request, today, watch) => renderSpecRequest(request, today, '0', watch),
  });
  return { host, told };
}

const wanted = (more: object) => ({
  map: sample('ft6-orrin32.map.json'),
  host: sample('halden-ft6.platform.json'),
  donor: sample('orrin-32.platform.json'),
  spec: 'translation',
  format: 'pdf',
  ...more,
});

it('a document with a job tells how far it is, section by section, then page by page', async () => {
  const { host, told } = service();
  const answer = (await host.call('renderSpec', wanted({ job: 'a' }))) as { files: { name: string }[] };
  expect(answer.files.map(({ name }) => name)).toEqual(['ft6-orrin32-translation.pdf']);
  expect(answer).not.toHaveProperty('cancelled');
  const steps = told.flatMap((event) => (event.kind === 'render-progress' ? [event] : []));
  expect(new Set(steps.map(({ job }) => job))).toEqual(new Set(['a']));
  expect(steps[0]).toMatchObject({ doing: 'sections', done: 0 });
  const last = steps.at(-1)!;
  expect(last.doing).toBe('pages');
  expect(last.done).toBe(last.total);
});

it('a job is called off between two pages: no file; and one that is done or unknown is nobody’s harm', async () => {
  let asked: Promise<unknown> | null = null;
  const { host, told } = service((event) => {
    if (event.kind === 'render-progress' && event.doing === 'pages') asked ??= host.call('cancelRender', { job: 'b' });
  });
  expect(await host.call('renderSpec', wanted({ job: 'b' }))).toEqual({ files: [], cancelled: true });
  expect(await asked).toEqual({});
  const last = told.at(-1);
  expect(last).toMatchObject({ kind: 'render-progress', doing: 'pages', done: 0 });
  expect(await host.call('cancelRender', { job: 'b' })).toEqual({});
});

it('without a job nothing is told', async () => {
  const { host, told } = service();
  await host.call('renderSpec', wanted({ format: 'json' }));
  expect(told).toEqual([]);
});
