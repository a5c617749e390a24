/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/deposit.h"

#include "models/range.h"

#include <string.h>

/* base^power for a base of zero or more. Small whole powers by products or roots of the library that round correctly,
 * so that the common exponents do not hang on how a machine's pow rounds. */
static double power_of(double base, double power)
{
    if (power == 1)
        return base;
    if (power == 2)
        return base * base;
    if (power == 3)
        return base * base * base;
    if (power == 0.5)
        return sqrt(base);
    return pow(base, power);
}

static bool is_reference(const struct wr_deposit *deposit)
{
    return wr_is_positive(deposit->reference_rate) && wr_is_positive(deposit->reference_viscosity) &&
           wr_is_within(deposit->exponent, 1, WR_DEPOSIT_STEEPEST) &&
           (deposit->exponent == 1 || wr_is_positive(deposit->reference_load));
}

enum wr_status wr_deposit_check(const struct wr_deposit *deposit)
{
    return is_reference(deposit) && wr_is_not_negative(deposit->slope) ? WR_OK : WR_OUT_OF_RANGE;
}

double wr_deposit_steepening(const struct wr_deposit *deposit, double load)
{
    return power_of(load / deposit->reference_load, deposit->exponent - 1);
}

double wr_deposit_load(const struct wr_deposit *deposit, double resistance, double viscosity)
{
    assert(resistance >= 0 && viscosity > 0);
    if (resistance == 0)
        return 0;
    double straight =
        resistance * (deposit->reference_rate * deposit->reference_viscosity) / (deposit->slope * viscosity);
    if (deposit->exponent == 1)
        return straight;
    return deposit->reference_load * power_of(straight / deposit->reference_load, 1 / deposit->exponent);
}

double wr_deposit_integral(const struct wr_deposit *deposit, double load, double viscosity)
{
    return wr_deposit_resistance(deposit, load, viscosity) * load / (deposit->exponent + 1);
}

const struct wr_deposit_law wr_deposit_laws[] = {
    {"slope", wr_deposit_resistance, wr_deposit_load, wr_deposit_integral},
};

const size_t wr_deposit_law_count = sizeof(wr_deposit_laws) / sizeof(wr_deposit_laws[0]);

const struct wr_deposit_law *wr_deposit_law_find(const char *name)
{
    for (size_t i = 0; i < wr_deposit_law_count; i++)
        if (strcmp(wr_deposit_laws[i].name, name) == 0)
            return &wr_deposit_laws[i];
    return NULL;
}

enum wr_status wr_deposit_run_load(const struct wr_deposit_run *run, double *load)
{
    if (!wr_is_not_negative(run->run_volume) || !wr_is_not_negative(run->solids))
        return WR_OUT_OF_RANGE;
    if (run->run_volume == 0 || run->solids == 0)
        return WR_NO_LOAD;
    *load = run->run_volume * run->solids;
    return WR_OK;
}

enum wr_status wr_deposit_run_slope(const struct wr_deposit_run *run, const struct wr_deposit *reference, double *slope)
{
    if (!wr_is_not_negative(run->clean_head) || !wr_is_not_negative(run->dirty_head) || !wr_is_positive(run->rate) ||
        !wr_is_positive(run->viscosity) || !is_reference(reference))
        return WR_OUT_OF_RANGE;
    if (run->dirty_head <= run->clean_head)
        return WR_NO_RISE;
    double load;
    enum wr_status status = wr_deposit_run_load(run, &load);
    if (status != WR_OK)
        return status;
    struct wr_deposit unit = *reference;
    unit.slope = 1;
    *slope = (run->dirty_head - run->clean_head) / (wr_deposit_resistance(&unit, load, run->viscosity) * run->rate);
    return WR_OK;
}
