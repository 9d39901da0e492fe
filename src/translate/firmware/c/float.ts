/** Floating point: only in the output of a map that has a float field. */
export const FLOAT_HEADER = String.raw`/* IEEE 754 fields: only where a signal of the map is one. */
#ifndef XLC_FLOAT_H
#define XLC_FLOAT_H

#include <float.h>
#include <stdbool.h>
#include <stdint.h>

#if FLT_RADIX != 2 || FLT_MANT_DIG != 24 || DBL_MANT_DIG != 53
#error "float fields need IEEE 754 single and double precision"
#endif
#if FLT_EVAL_METHOD != 0 && FLT_EVAL_METHOD != 1
#error "float fields need arithmetic in double precision, no more (on x87: -msse2 -mfpmath=sse)"
#endif

double xlc_single_of(uint32_t bits);
double xlc_double_of(uint64_t bits);
uint64_t xlc_bits_of_single(double x);
uint64_t xlc_bits_of_double(double x);

/* Neither infinite nor "not a number", and below 2^1020. */
bool xlc_is_usable(double x);

/* x * factor + offset, each rounded, as on every other machine. */
double xlc_scaled(double x, double factor, double offset);

/* x, kept within both ends. */
double xlc_kept(double x, double lo, double hi);

/* The nearest integer, halves away from zero, of a number below 2^63 in size. */
int64_t xlc_nearest(double x);

#endif
`;

export const FLOAT_SOURCE = String.raw`#include "xlc_float.h"

#include <string.h>

double xlc_single_of(uint32_t bits)
{
    float x;

    memcpy(&x, &bits, sizeof x);
    return (double)x;
}

double xlc_double_of(uint64_t bits)
{
    double x;

    memcpy(&x, &bits, sizeof x);
    return x;
}

uint64_t xlc_bits_of_single(double x)
{
    const float narrow = (float)x;
    uint32_t bits;

    memcpy(&bits, &narrow, sizeof bits);
    return bits;
}

uint64_t xlc_bits_of_double(double x)
{
    uint64_t bits;

    memcpy(&bits, &x, sizeof bits);
    return bits;
}

bool xlc_is_usable(double x)
{
    const double end = 0x1p1020;

    return x > -end && x < end;
}

double xlc_scaled(double x, double factor, double offset)
{
    /* In two statements, so that no compiler may round only once. */
    const volatile double product = x * factor;

    return product + offset;
}

double xlc_kept(double x, double lo, double hi)
{
    return x < lo ? lo : x > hi ? hi : x;
}

int64_t xlc_nearest(double x)
{
    return x < 0.0 ? -(int64_t)(0.5 - x) : (int64_t)(x + 0.5);
}
`;
