/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_MODELS_DEPOSIT_H
#define WR_MODELS_DEPOSIT_H

/* Headloss that captured solids add to a bed: a law behind a small table of functions.
 *
 * Flow through a deposit is laminar, so its head is proportional to rate and viscosity and a law need only say a
 * *resistance*, head per rate, as a function of the load m (captured dry solids per area of bed, kg/m2). There is no
 * way to predict that resistance without pilot or plant data (M. L. Davis, Water and Wastewater Engineering, 2010, p.
 * 11-16): it is given, or derived from a run that was observed.
 *
 * wr_deposit_check tells once whether a deposit is fit for use. The functions of a law run at every event; for them an
 * unfit deposit, a negative load or a viscosity not above zero is a programmer's mistake and asserted. */

#include "models/status.h"

#include <assert.h>
#include <math.h>
#include <stddef.h>

/* Headloss by load, fixed at one rate and viscosity. */
struct wr_deposit {
    double slope;               /* m of head per kg/m2 at the reference rate, viscosity and load, zero or more */
    double reference_rate;      /* m/s, above zero */
    double reference_viscosity; /* Pa s, above zero */
    double exponent;            /* 1: straight; above, up to 10: steepening with load */
    double reference_load; /* kg/m2, above zero; where a steepening law meets its slope; unused when exponent is 1 */
};

/* Highest exponent a deposit may have. */
#define WR_DEPOSIT_STEEPEST 10.0

/* Tells whether a deposit is within the ranges of its struct.
 * Returns: WR_OK, or WR_OUT_OF_RANGE. */
enum wr_status wr_deposit_check(const struct wr_deposit *deposit);

/* How far a steepening law lies above the straight one, for exponents other than 1: (load/reference_load)^(exponent -
 * 1). Part of wr_deposit_resistance. */
double wr_deposit_steepening(const struct wr_deposit *deposit, double load);

/* Resistance that a load of captured solids adds to a bed.
 *     h = slope m (m/reference_load)^(exponent - 1) (v/reference_rate) (mu/reference_viscosity)
 *     resistance = h/v
 * Given: deposit that passes wr_deposit_check; load m, kg/m2, zero or more; viscosity mu, Pa s, above zero.
 * Returns: resistance, m/(m/s), zero or more; to be added to the linear coefficient of the clean bed.
 * Neglects: where in the bed the solids lie, floc being sheared or pressed as the rate changes, ripening, surface
 * cake.
 * Scatter: no data give one slope for all plants; expect it to differ by season and by filter.
 * Source: for exponent 1, M. L. Davis, Water and Wastewater Engineering, 2010, eqs 11-4 to 11-8 p. 11-12 (head in
 * step with captured mass); rate and viscosity by Darcy's law; the exponent is this project's own allowance.
 * Pinned by: tests/published/test_deposit.c, tests/unit/test_models_deposit.c */
static inline double wr_deposit_resistance(const struct wr_deposit *deposit, double load, double viscosity)
{
    assert(load >= 0 && viscosity > 0);
    double straight = deposit->slope * load * viscosity / (deposit->reference_rate * deposit->reference_viscosity);
    return deposit->exponent == 1 ? straight : straight * wr_deposit_steepening(deposit, load);
}

/* Load at which a deposit has a resistance: the inverse of wr_deposit_resistance.
 * Given: deposit that passes wr_deposit_check; resistance, m/(m/s), zero or more; viscosity, Pa s, above zero.
 * Returns: load, kg/m2; zero for no resistance; infinity where a deposit of slope zero never reaches it.
 * Neglects, scatter, source, pinned by: as wr_deposit_resistance. */
double wr_deposit_load(const struct wr_deposit *deposit, double resistance, double viscosity);

/* Integral of resistance over load from a clean bed, from which times at constant head follow.
 *     integral from 0 to m of R dm = R(m) m/(exponent + 1)
 * Given: deposit that passes wr_deposit_check; load, kg/m2, zero or more; viscosity, Pa s, above zero.
 * Returns: integral, m/(m/s) kg/m2.
 * Neglects, scatter, source, pinned by: as wr_deposit_resistance. */
double wr_deposit_integral(const struct wr_deposit *deposit, double load, double viscosity);

/* A law of deposit: three functions of one contract, as above. */
struct wr_deposit_law {
    const char *name;
    double (*resistance)(const struct wr_deposit *deposit, double load, double viscosity);
    double (*load)(const struct wr_deposit *deposit, double resistance, double viscosity);
    double (*integral)(const struct wr_deposit *deposit, double load, double viscosity);
};

/* The laws: "slope", the functions above. */
extern const struct wr_deposit_law wr_deposit_laws[];
extern const size_t wr_deposit_law_count;

/* The law of a name, or NULL. */
const struct wr_deposit_law *wr_deposit_law_find(const char *name);

/* What a plant has seen of one filter run at one rate. */
struct wr_deposit_run {
    double clean_head; /* m across the filter just after a wash, zero or more */
    double dirty_head; /* m at the end of the run, above clean_head */
    double rate;       /* m/s at which both heads were read, above zero */
    double run_volume; /* m3 of water per m2 of bed, above zero */
    double solids;     /* kg/m3 dry in the water filtered, above zero */
    double viscosity;  /* Pa s, above zero */
};

/* Load that an observed run gathered.
 *     load = run_volume x solids
 * Given: run.
 * Returns: load, kg/m2; WR_NO_LOAD when volume or solids are zero; WR_OUT_OF_RANGE when they are negative or not
 * finite.
 * Neglects: solids that passed the filter, and those the wash before left in the bed.
 * Source: a mass balance.
 * Pinned by: tests/published/test_deposit.c */
enum wr_status wr_deposit_run_load(const struct wr_deposit_run *run, double *load);

/* Slope with which a deposit has the headloss of an observed run at its end.
 *     slope = (dirty_head - clean_head)/(m (m/reference_load)^(exponent - 1) (rate/reference_rate)
 *                                        (viscosity/reference_viscosity)),  m = run_volume x solids
 * Given: run; reference, whose slope alone is not read (a steepening law whose plant states no reference load
 * takes the run's own, by wr_deposit_run_load).
 * Returns: slope, m per kg/m2 at the reference; WR_NO_RISE when dirty_head is not above clean_head; WR_NO_LOAD and
 * WR_OUT_OF_RANGE as wr_deposit_run_load, or when another member is outside the range of its struct.
 * Neglects: what the clean part and fittings do as the run goes on (they stay), and the loads' share that passed.
 * Scatter: as good as the two heads: 0.1 m of error in a rise of 4 m is 2.5 %.
 * Source: wr_deposit_resistance solved for its slope.
 * Pinned by: tests/published/test_deposit.c */
enum wr_status wr_deposit_run_slope(const struct wr_deposit_run *run, const struct wr_deposit *reference,
                                    double *slope);

#endif
