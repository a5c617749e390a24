/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_MODELS_ROOT_H
#define WR_MODELS_ROOT_H

/* Where a function crosses zero, for laws that cannot be turned round. */

#include "models/status.h"

/* The root of `function` between two ends at which its signs differ, by GSL's Brent method, to 1e-13 of its size; an
 * end at which it is zero is one, the higher where both are. Given: what the function is handed besides its argument;
 * low < high. Returns: root; WR_OUT_OF_RANGE, and `*root` untouched, when the signs do not differ or a value is no
 * number. */
enum wr_status wr_root_between(double (*function)(double argument, void *context), void *context, double low,
                               double high, double *root);

#endif
