import { crcDefinitions } from './crc.ts';

/** The core's functions. */
export const CORE_SOURCE = String.raw`#include "xlc_core.h"

void xlc_source_take(xlc_source *source, const xlc_source_rule *rule, uint64_t now_us)
{
    if (source->missing == XLC_NEVER) {
        /* The first sample ever counts at once. */
        source->missing = XLC_VALID;
    } else if (source->missing != XLC_VALID) {
        source->good = now_us - source->last_us > rule->stale_us ? 1u : source->good + 1u;
        if (source->good >= rule->recover_after) {
            source->missing = XLC_VALID;
        }
    }
    source->last_us = now_us;
}

void xlc_source_expire(xlc_source *sources, const xlc_source_rule *rules, size_t count, uint64_t now_us)
{
    size_t i;

    for (i = 0u; i < count; i++) {
        if (sources[i].missing == XLC_VALID && rules[i].expires && now_us - sources[i].last_us > rules[i].stale_us) {
            sources[i].missing = XLC_LOST;
            sources[i].good = 0u;
        }
    }
}

bool xlc_settle(const xlc_loss *loss, xlc_hold *hold, xlc_status status, uint64_t now_us, uint64_t *raw)
{
    const xlc_action *action = status == XLC_NEVER ? &loss->at_start : &loss->on_loss;

    if (status == XLC_VALID) {
        if (hold != NULL) {
            hold->value = *raw;
            hold->has_value = true;
            hold->lost = false;
        }
        return true;
    }
    if ((status == XLC_NOT_AVAILABLE && loss->has_not_available) || (status == XLC_ERROR && loss->has_error)) {
        *raw = status == XLC_ERROR ? loss->error : loss->not_available;
        if (hold != NULL) {
            hold->lost = false;
        }
        return true;
    }
    if (hold != NULL) {
        if (!hold->lost) {
            hold->lost = true;
            hold->lost_since_us = now_us;
        }
        if (action->holds && hold->has_value && !(action->ends && now_us - hold->lost_since_us >= action->for_us)) {
            *raw = hold->value;
            return true;
        }
    }
    *raw = action->raw;
    return action->writes;
}

/* Takes a new value over once it has been the same for so many ticks. */
static int64_t settled(xlc_memory *memory, int64_t x, uint32_t ticks)
{
    if (x == memory->value) {
        memory->candidate = x;
        memory->count = 0u;
    } else if (ticks == 0u) {
        memory->value = x;
        memory->candidate = x;
    } else if (x != memory->candidate) {
        memory->candidate = x;
        memory->count = 0u;
    } else {
        memory->count++;
        if (memory->count >= ticks) {
            memory->value = x;
            memory->count = 0u;
        }
    }
    return memory->value;
}

static int64_t begun(xlc_memory *memory, int64_t x)
{
    memory->started = true;
    memory->value = x;
    memory->candidate = x;
    memory->count = 0u;
    return x;
}

int64_t xlc_debounce(xlc_memory *memory, int64_t x, uint32_t ticks)
{
    return memory->started ? settled(memory, x, ticks) : begun(memory, x);
}

int64_t xlc_bands(xlc_memory *memory, int64_t x, const int64_t *up, const int64_t *down, uint32_t count,
                  uint32_t dwell_ticks)
{
    uint32_t band = 0u;

    if (!memory->started) {
        while (band < count && x >= up[band]) {
            band++;
        }
        return begun(memory, (int64_t)band);
    }
    band = (uint32_t)memory->value;
    while (band < count && x >= up[band]) {
        band++;
    }
    while (band > 0u && x < down[band - 1u]) {
        band--;
    }
    return settled(memory, (int64_t)band, dwell_ticks);
}

int64_t xlc_rate_limit(xlc_memory *memory, int64_t x, int64_t finer, int64_t rise, int64_t fall)
{
    const int64_t wanted = x * finer;
    int64_t change;

    if (!memory->started) {
        return begun(memory, wanted);
    }
    change = wanted - memory->value;
    if (change > rise) {
        memory->value += rise;
    } else if (-change > fall) {
        memory->value -= fall;
    } else {
        memory->value = wanted;
    }
    return memory->value;
}

int64_t xlc_smooth(xlc_memory *memory, int64_t x, int64_t finer, int64_t alpha)
{
    const int64_t wanted = x * finer;
    int64_t step;

    if (!memory->started) {
        return begun(memory, wanted);
    }
    if (wanted != memory->value) {
        step = xlc_divide64((wanted - memory->value) * alpha, INT64_C(16777216));
        if (step == 0) {
            step = wanted > memory->value ? 1 : -1;
        }
        memory->value += step;
    }
    return memory->value;
}

int64_t xlc_delay(xlc_memory *memory, int64_t *ring, uint32_t ticks, int64_t x)
{
    int64_t out;
    uint32_t i;

    if (!memory->started) {
        memory->started = true;
        for (i = 0u; i < ticks; i++) {
            ring[i] = x;
        }
        memory->count = 0u;
    }
    out = ring[memory->count];
    ring[memory->count] = x;
    memory->count = memory->count + 1u == ticks ? 0u : memory->count + 1u;
    return out;
}

CRC_DEFINITIONS
static uint8_t covered(const uint8_t *data, const xlc_covered *part)
{
    return (uint8_t)((data[part->byte] & part->mask) | part->fixed);
}

uint32_t xlc_crc(const xlc_crc_code *code, const uint8_t *data, const xlc_covered *input, size_t count)
{
    const uint32_t top = (uint32_t)1u << (code->width - 1u);
    const uint32_t all = top | (top - 1u);
    uint32_t reg = code->start;
    size_t i;
    uint8_t bit;

    for (i = 0u; i < count; i++) {
        if (code->reflected) {
            reg ^= covered(data, &input[i]);
            for (bit = 0u; bit < 8u; bit++) {
                reg = (reg & 1u) != 0u ? (reg >> 1) ^ code->polynomial : reg >> 1;
            }
        } else {
            reg ^= (uint32_t)covered(data, &input[i]) << (code->width - 8u);
            for (bit = 0u; bit < 8u; bit++) {
                reg = ((reg & top) != 0u ? (reg << 1) ^ code->polynomial : reg << 1) & all;
            }
        }
    }
    return (reg ^ code->final_xor) & all;
}

uint32_t xlc_xor8(const uint8_t *data, const xlc_covered *input, size_t count)
{
    uint32_t sum = 0u;
    size_t i;

    for (i = 0u; i < count; i++) {
        sum ^= covered(data, &input[i]);
    }
    return sum;
}

uint32_t xlc_sum8(const uint8_t *data, const xlc_covered *input, size_t count)
{
    uint32_t sum = 0u;
    size_t i;

    for (i = 0u; i < count; i++) {
        sum += covered(data, &input[i]);
    }
    return sum & 0xFFu;
}

uint32_t xlc_nibble_sum(const uint8_t *data, const xlc_covered *input, size_t count)
{
    uint32_t sum = 0u;
    uint32_t byte;
    size_t i;

    for (i = 0u; i < count; i++) {
        byte = covered(data, &input[i]);
        sum += (byte >> 4) + (byte & 0x0Fu);
    }
    return sum & 0xFFu;
}
`.replace('CRC_DEFINITIONS\n', crcDefinitions);
