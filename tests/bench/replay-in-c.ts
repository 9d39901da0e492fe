// The generated firmware on the frames of the replay bench: compiled at -O2, timed inside the program, so that no text is read or written.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Pairing } from '../../src/model/index.ts';
import { type ReplayFrame, firmwareOf } from '../../src/translate/index.ts';

const DRIVER = String.raw`#include "xm.h"

#include <stdio.h>
#include <stdlib.h>
#include <time.h>

typedef struct {
    uint64_t time_us;
    uint32_t id;
    uint8_t data[8];
} bench_frame;

static uint32_t sum;
static unsigned long sent;

/* Time as it passes, as the engine beside it is measured. */
static double milliseconds(void)
{
    struct timespec now;

    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec * 1000.0 + (double)now.tv_nsec / 1000000.0;
}

void xm_port_send(const xlc_frame *frame, uint64_t now_us)
{
    (void)now_us;
    sum = sum * 31u + frame->data[0] + frame->data[3] + frame->data[5] + frame->data[7];
    sent++;
}

void xm_port_drive(uint8_t pin, bool driven, int32_t level, uint64_t now_us)
{
    (void)pin;
    (void)driven;
    (void)level;
    (void)now_us;
}

int main(int argc, char **argv)
{
    const long count = strtol(argv[2], NULL, 10);
    const long rounds = strtol(argv[3], NULL, 10);
    bench_frame *const frames = malloc((size_t)count * sizeof *frames);
    FILE *const in = fopen(argv[1], "rb");
    long round;
    long i;

    if (argc != 4 || frames == NULL || in == NULL) {
        return 1;
    }
    for (i = 0; i < count; i++) {
        uint8_t bytes[20];
        unsigned k;

        if (fread(bytes, 1u, sizeof bytes, in) != sizeof bytes) {
            return 1;
        }
        frames[i].time_us = 0u;
        for (k = 8u; k > 0u; k--) {
            frames[i].time_us = (frames[i].time_us << 8) | bytes[k - 1u];
        }
        frames[i].id = (uint32_t)bytes[8] | ((uint32_t)bytes[9] << 8);
        for (k = 0u; k < 8u; k++) {
            frames[i].data[k] = bytes[12u + k];
        }
    }
    for (round = 0; round < rounds; round++) {
        double begun;
        uint64_t next = 0u;

        sum = 0u;
        sent = 0u;
        xm_init(0u);
        begun = milliseconds();
        for (i = 0; i < count; i++) {
            while (next < frames[i].time_us) {
                xm_tick(next);
                next += XM_PERIOD_US;
            }
            xm_on_frame(XM_BUS_B, frames[i].id, false, frames[i].data, 8u, frames[i].time_us);
        }
        (void)printf("%.6f %lu %lu\n", milliseconds() - begun, (unsigned long)sum, sent);
    }
    free(frames);
    return 0;
}
`;

export interface RunInC {
  /** Median milliseconds of a pass over all frames. */
  readonly ms: number;
  /** Sum over the bytes sent, as 32 bits without a sign. */
  readonly sum: number;
  readonly frames: number;
}

/** Compiles and times; null where there is no C compiler. */
export function replayInC(pairing: Pairing, frames: readonly ReplayFrame[], rounds: number): RunInC | null {
  const compiler = ['gcc', 'clang'].find((name) => spawnSync(name, ['--version'], { stdio: 'ignore' }).status === 0);
  if (compiler === undefined) return null;
  const folder = mkdtempSync(join(tmpdir(), 'crossloom-bench-'));
  try {
    const { files } = firmwareOf(pairing, pairing.map.interfaceModules[0]!, pairing.options.combinations[0]!);
    for (const { name, text } of files) writeFileSync(join(folder, name), text);
    writeFileSync(join(folder, 'driver.c'), DRIVER);
    writeFileSync(join(folder, 'frames'), binary(frames));
    const sources = files.map(({ name }) => name).filter((name) => name.endsWith('.c') && !/_main|harness/.test(name));
    const built = spawnSync(compiler, ['-std=gnu99', '-O2', '-o', 'bench', 'driver.c', ...sources], {
      cwd: folder,
      encoding: 'utf8',
    });
    if (built.status !== 0) throw new Error(built.stderr);
    const run = spawnSync(join(folder, 'bench'), ['frames', String(frames.length), String(rounds)], {
      cwd: folder,
      encoding: 'utf8',
    });
    const rows = run.stdout
      .trim()
      .split('\n')
      .map((line) => line.split(' ').map(Number) as [number, number, number]);
    if (run.status !== 0 || rows.length !== rounds) throw new Error(`the bench in C failed: ${run.stderr}`);
    const times = rows.map(([ms]) => ms).sort((a, b) => a - b);
    return { ms: times[times.length >> 1]!, sum: rows[0]![1], frames: rows[0]![2] };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Twenty bytes a frame: time, id, data, least significant byte first. */
function binary(frames: readonly ReplayFrame[]): Uint8Array {
  const bytes = new Uint8Array(frames.length * 20);
  const view = new DataView(bytes.buffer);
  frames.forEach(({ timeUs, frameId, data }, at) => {
    view.setBigUint64(at * 20, BigInt(timeUs), true);
    view.setUint32(at * 20 + 8, frameId, true);
    bytes.set(data, at * 20 + 12);
  });
  return bytes;
}
