/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_MODELS_RANGE_H
#define WR_MODELS_RANGE_H

/* The questions by which models refuse a value. None of them lets a NaN pass. */

#include <float.h>
#include <stdbool.h>

/* True for a number above zero, infinity excluded. */
static inline bool wr_is_positive(double value)
{
    return value > 0 && value <= DBL_MAX;
}

/* True for zero or a number above it, infinity excluded. */
static inline bool wr_is_not_negative(double value)
{
    return value >= 0 && value <= DBL_MAX;
}

/* True from least to most, both included. */
static inline bool wr_is_within(double value, double least, double most)
{
    return least <= value && value <= most;
}

#endif
