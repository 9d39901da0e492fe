/** Numbers beyond 64 bits: only in the output of a map that has a route which needs them. */
export const WIDE_HEADER = String.raw`/* Signed integers of 128 bits, for the few routes whose arithmetic does not fit 64. */
#ifndef XLC_WIDE_H
#define XLC_WIDE_H

#include <stdbool.h>
#include <stdint.h>

/* Two's complement. */
typedef struct {
    uint64_t high;
    uint64_t low;
} xlc_wide;

xlc_wide xlc_wide_of(uint64_t high, uint64_t low);
xlc_wide xlc_wide_of_int64(int64_t x);
xlc_wide xlc_wide_add(xlc_wide a, xlc_wide b);
xlc_wide xlc_wide_negate(xlc_wide a);
xlc_wide xlc_wide_multiply(xlc_wide a, xlc_wide b);
bool xlc_wide_at_most(xlc_wide a, xlc_wide b);

/* The nearest integer to n / d, d > 0, halves away from zero. */
xlc_wide xlc_wide_divide(xlc_wide n, xlc_wide d);

#endif
`;

export const WIDE_SOURCE = String.raw`#include "xlc_wide.h"

static bool is_negative(xlc_wide a)
{
    return (a.high >> 63) != 0u;
}

/* Both without a sign. */
static bool at_least(xlc_wide a, xlc_wide b)
{
    return a.high > b.high || (a.high == b.high && a.low >= b.low);
}

static xlc_wide half_of(xlc_wide a)
{
    return xlc_wide_of(a.high >> 1, (a.low >> 1) | (a.high << 63));
}

xlc_wide xlc_wide_of(uint64_t high, uint64_t low)
{
    xlc_wide result;

    result.high = high;
    result.low = low;
    return result;
}

xlc_wide xlc_wide_of_int64(int64_t x)
{
    return xlc_wide_of(x < 0 ? UINT64_MAX : 0u, (uint64_t)x);
}

xlc_wide xlc_wide_add(xlc_wide a, xlc_wide b)
{
    const uint64_t low = a.low + b.low;

    return xlc_wide_of(a.high + b.high + (low < a.low ? 1u : 0u), low);
}

xlc_wide xlc_wide_negate(xlc_wide a)
{
    return xlc_wide_add(xlc_wide_of(~a.high, ~a.low), xlc_wide_of(0u, 1u));
}

xlc_wide xlc_wide_multiply(xlc_wide a, xlc_wide b)
{
    const uint64_t half = UINT64_C(0xFFFFFFFF);
    const uint64_t a0 = a.low & half;
    const uint64_t a1 = a.low >> 32;
    const uint64_t b0 = b.low & half;
    const uint64_t b1 = b.low >> 32;
    const uint64_t p00 = a0 * b0;
    const uint64_t p01 = a0 * b1;
    const uint64_t p10 = a1 * b0;
    const uint64_t middle = (p00 >> 32) + (p01 & half) + (p10 & half);

    return xlc_wide_of(a.high * b.low + a.low * b.high + a1 * b1 + (p01 >> 32) + (p10 >> 32) + (middle >> 32),
                       (middle << 32) | (p00 & half));
}

bool xlc_wide_at_most(xlc_wide a, xlc_wide b)
{
    if (is_negative(a) != is_negative(b)) {
        return is_negative(a);
    }
    return at_least(b, a);
}

xlc_wide xlc_wide_divide(xlc_wide n, xlc_wide d)
{
    const bool negative = is_negative(n);
    xlc_wide rest = xlc_wide_of(0u, 0u);
    xlc_wide quotient = xlc_wide_add(negative ? xlc_wide_negate(n) : n, half_of(d));
    uint8_t bit;

    for (bit = 0u; bit < 128u; bit++) {
        rest = xlc_wide_of((rest.high << 1) | (rest.low >> 63), (rest.low << 1) | (quotient.high >> 63));
        quotient = xlc_wide_of((quotient.high << 1) | (quotient.low >> 63), quotient.low << 1);
        if (at_least(rest, d)) {
            rest = xlc_wide_add(rest, xlc_wide_negate(d));
            quotient.low |= 1u;
        }
    }
    return negative ? xlc_wide_negate(quotient) : quotient;
}
`;
