/** The host harness: runs a module on a log, on the machine of the one who builds it. Not for the target. */
export const HARNESS_HEADER = String.raw`/* Test harness for the host: frames and wire levels as lines in, frames and wire levels as lines out. Not for the target. */
#ifndef XLC_HARNESS_H
#define XLC_HARNESS_H

#include "xlc_core.h"

#include <stdio.h>

typedef struct {
    const char *name;
    uint8_t number;
} xlc_name;

typedef struct {
    uint64_t period_us;
    uint64_t start_us;
    uint64_t latency_us;
    /* Several names may stand for one bus; the first is printed. */
    const xlc_name *buses;
    size_t bus_count;
    const xlc_name *pins_in;
    size_t pin_in_count;
    const xlc_name *pins_out;
    size_t pin_out_count;
    void (*init)(uint64_t now_us);
    void (*on_frame)(uint8_t bus, uint32_t id, bool extended, const uint8_t *data, uint8_t length, uint64_t now_us);
    void (*on_pin)(uint8_t pin, int32_t level, uint64_t now_us);
    void (*tick)(uint64_t now_us);
} xlc_module;

/*
 * Reads lines to the end and prints what comes out:
 *
 *   (12.345678) BUS 123#0102         a frame; 8 digits of id: extended; ## and a digit of flags: CAN FD
 *   (12.345678) wire NAME LEVEL      a level: 1 or 0, or thousandths of the quantity; out also: open
 *   (12.345678) power                the supply comes on; else it does with the first line
 *   (12.345678) advance              time passes up to and including this moment
 *   # ...                            overlooked
 *
 * Gives the number of lines that could not be read; each is told on the error stream.
 */
unsigned long xlc_harness_run(const xlc_module *module, FILE *in, FILE *out);

/* Standard input to standard output; arguments such as can0=host:bus name the buses as the log does. Gives an exit code. */
int xlc_harness_main(const xlc_module *module, int argc, char **argv);

/* What the module's own outputs call. */
void xlc_harness_send(const xlc_frame *frame, uint64_t now_us);
void xlc_harness_drive(uint8_t pin, bool driven, int32_t level, uint64_t now_us);

#endif
`;
