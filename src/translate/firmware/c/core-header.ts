import { crcDeclarations } from './crc.ts';

/** The parts of the C core that no map changes: statuses, sources, loss behaviour, steps in time, rounding, checksums. */
export const CORE_HEADER =
  String.raw`/* Core of the generated firmware: what every route shares. Portable C99; no heap, no recursion, no floating point. */
#ifndef XLC_CORE_H
#define XLC_CORE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Whether there is a value, and why not. */
typedef enum {
    XLC_VALID = 0,
    XLC_NOT_AVAILABLE = 1, /* the sender says so */
    XLC_ERROR = 2,         /* the sender says so, or no number */
    XLC_LOST = 3,          /* not received for too long */
    XLC_NEVER = 4          /* never received */
} xlc_status;

/* A frame that goes out. */
typedef struct {
    uint8_t bus;
    uint32_t id;
    bool extended;
    bool fd;
    const uint8_t *data;
    uint8_t length;
} xlc_frame;

/* What of a frame that goes out is always the same. */
typedef struct {
    uint8_t bus;
    uint32_t id;
    bool extended;
    bool fd;
} xlc_header;

/* ---- sources: what was last received, and whether it still counts ---- */

typedef struct {
    uint64_t stale_us; /* older than this it is lost */
    bool expires;
    uint32_t recover_after; /* good samples in a row after which a lost source counts again */
} xlc_source_rule;

typedef struct {
    uint64_t last_us;
    uint32_t good;
    xlc_status missing;
} xlc_source;

/* A good sample has come in. */
void xlc_source_take(xlc_source *source, const xlc_source_rule *rule, uint64_t now_us);

/* Marks sources lost that are too old. */
void xlc_source_expire(xlc_source *sources, const xlc_source_rule *rules, size_t count, uint64_t now_us);

/* ---- loss behaviour: what is written when there is no value ---- */

typedef struct {
    bool holds; /* the last value first, if there is one ... */
    bool ends;  /* ... for so long only */
    uint64_t for_us;
    bool writes; /* then this is written; else nothing: the message is not sent, the output is open */
    uint64_t raw;
} xlc_action;

typedef struct {
    bool has_not_available;
    bool has_error;
    uint64_t not_available;
    uint64_t error;
    xlc_action on_loss;
    xlc_action at_start;
} xlc_loss;

typedef struct {
    bool has_value;
    bool lost;
    uint64_t value;
    uint64_t lost_since_us;
} xlc_hold;

/* Turns what the steps of a route gave into what is written; false: nothing. hold may be NULL where nothing is ever held. */
bool xlc_settle(const xlc_loss *loss, xlc_hold *hold, xlc_status status, uint64_t now_us, uint64_t *raw);

/* ---- arithmetic ---- */

/* The nearest integer to n / d, d > 0, halves away from zero. */
static inline int32_t xlc_divide32(int32_t n, int32_t d)
{
    return n >= 0 ? (n + d / 2) / d : -((d / 2 - n) / d);
}

static inline int64_t xlc_divide64(int64_t n, int64_t d)
{
    return n >= 0 ? (n + d / 2) / d : -((d / 2 - n) / d);
}

/* Two's complement, without a conversion that an implementation may define. */
static inline int64_t xlc_int64_of(uint64_t bits)
{
    return bits <= (uint64_t)INT64_MAX ? (int64_t)bits : -(int64_t)(UINT64_MAX - bits) - 1;
}

/* ---- steps in time, one call a tick ---- */

typedef struct {
    int64_t value;
    int64_t candidate;
    uint32_t count;
    bool started;
} xlc_memory;

/* The input once it has been the same for so many ticks; until then the input before. */
int64_t xlc_debounce(xlc_memory *memory, int64_t x, uint32_t ticks);

/* The position of the band: rises while x >= up[i], falls while x < down[i]; counts after dwell_ticks ticks in it. */
int64_t xlc_bands(xlc_memory *memory, int64_t x, const int64_t *up, const int64_t *down, uint32_t count,
                  uint32_t dwell_ticks);

/* x * finer, then at most rise up and fall down in a tick. */
int64_t xlc_rate_limit(xlc_memory *memory, int64_t x, int64_t finer, int64_t rise, int64_t fall);

/* y += (x * finer - y) * alpha / 2^24, at least one count towards the input. */
int64_t xlc_smooth(xlc_memory *memory, int64_t x, int64_t finer, int64_t alpha);

/* The input so many ticks ago; ring holds that many. */
int64_t xlc_delay(xlc_memory *memory, int64_t *ring, uint32_t ticks, int64_t x);

/* ---- checksums ---- */

/* A byte that enters a checksum: (data[byte] & mask) | fixed. */
typedef struct {
    uint8_t byte;
    uint8_t mask;
    uint8_t fixed;
} xlc_covered;

/* A cyclic redundancy code; a reflected one has its polynomial and start mirrored already. */
typedef struct {
    uint8_t width; /* 8, 16 or 32 */
    bool reflected;
    uint32_t polynomial;
    uint32_t start;
    uint32_t final_xor;
} xlc_crc_code;

CRC_DECLARATIONS
uint32_t xlc_crc(const xlc_crc_code *code, const uint8_t *data, const xlc_covered *input, size_t count);
uint32_t xlc_xor8(const uint8_t *data, const xlc_covered *input, size_t count);
uint32_t xlc_sum8(const uint8_t *data, const xlc_covered *input, size_t count);
uint32_t xlc_nibble_sum(const uint8_t *data, const xlc_covered *input, size_t count);

#endif
`.replace('CRC_DECLARATIONS\n', crcDeclarations);
