/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/root.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_math.h>
#include <gsl/gsl_roots.h>
#include <math.h>

enum { STEPS_MOST = 200 };

static enum wr_status narrow(gsl_root_fsolver *solver, double *root)
{
    for (int step = 0; step < STEPS_MOST; step++) {
        if (gsl_root_fsolver_iterate(solver) != GSL_SUCCESS)
            return WR_OUT_OF_RANGE;
        const double low = gsl_root_fsolver_x_lower(solver), high = gsl_root_fsolver_x_upper(solver);
        if (gsl_root_test_interval(low, high, 0, 1e-13) == GSL_SUCCESS) {
            *root = gsl_root_fsolver_root(solver);
            return WR_OK;
        }
    }
    return WR_OUT_OF_RANGE;
}

enum wr_status wr_root_between(double (*function)(double argument, void *context), void *context, double low,
                               double high, double *root)
{
    const double at_low = function(low, context), at_high = function(high, context);
    if (!(low < high) || !isfinite(at_low) || !isfinite(at_high))
        return WR_OUT_OF_RANGE;
    if (fabs(at_low) <= 0 || fabs(at_high) <= 0) {
        *root = fabs(at_high) <= 0 ? high : low;
        return WR_OK;
    }
    if ((at_low > 0) == (at_high > 0))
        return WR_OUT_OF_RANGE;
    gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    if (solver == NULL)
        return WR_NO_MEMORY;
    gsl_function described = {.function = function, .params = context};
    enum wr_status status = WR_OUT_OF_RANGE;
    if (gsl_root_fsolver_set(solver, &described, low, high) == GSL_SUCCESS)
        status = narrow(solver, root);
    gsl_root_fsolver_free(solver);
    return status;
}
